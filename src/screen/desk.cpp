#include "screen/desk.hpp"

#include "base/text.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/stack.hpp"
#include "screen/settings/status_line.hpp"

#include <algorithm>
#include <array>
#include <limits>

// What stands around every view: the rail with its doors, the title, the notice.

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr ImGuiWindowFlags k_whole_window =
    ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoMove |
    ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
    ImGuiWindowFlags_NoScrollWithMouse;

// Widths at scale 1. The bench with its plate, at which the drift can stand beside it; the bench
// without it, at which the plate has a column of its own.
constexpr double k_least_bench = 900.0, k_least_lanes = 700.0;
constexpr double k_least_drift = 740.0, k_most_drift = 1100.0;
constexpr double k_least_plate = 350.0, k_most_plate = 620.0;
constexpr double k_column_gap = 12.0;

/// The plate on the bench.
std::string title_words(const bench::Snapshot& now) {
    return now.plate ? plate_name(now.plate->history.instrument, now.plate->history.plate)
                     : "Platewright";
}

/// What is said wherever figures are that it changes.
std::string air_set_over(const ViewContext& context) {
    return say("changes as if at {}", air_words(context.now.air));
}
void draw_air(const ViewContext& context, const std::string& words, const Box& chip) {
    ImguiCanvas canvas = context.canvas();
    canvas.box(chip, context.palette().caution, 0.5 * chip.height());
    line(canvas, words, chip,
         {.colour = context.palette().on_caution,
          .height = k_small * context.look.scale,
          .across = plot::Across::centre,
          .weight = Weight::bold});
}

} // namespace

int Desk::draw(const bench::Snapshot& now, const Look& look, Keys& keys) {
    const ImVec2 size = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({0.0F, 0.0F});
    ImGui::SetNextWindowSize(size);
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {0.0F, 0.0F});
    ImGui::Begin("desk", nullptr, k_whole_window);
    ImGui::PopStyleVar();

    keep_language();
    keep_habits();
    global_keys(keys);
    keep_ear(now);
    int owed = 0;
    wake_in_s_ = std::numeric_limits<double>::infinity();
    Box area{0.0, 0.0, static_cast<double>(size.x), static_cast<double>(size.y)};
    const bool stacks = !has_room(area.width(), area.height(), look.scale);
    double stacked_to = 0.0;
    const ViewContext context{
        now,      send_, look,       keys,   place_,     preferences_,         session_shown_,
        outside_, owed,  wake_in_s_, stacks, stacked_to, now.executed < sent_, closed_session_};
    const double scale = look.scale;
    rail(context, take_left(area, 108.0 * scale));
    draw_status(context, take_bottom(area, (stacks ? 38.0 : 50.0) * scale),
                stacks && place_ == Place::bench ? title_words(now) : std::string());
    notice(context, take_bottom(area, notice_height(context, area.width())));
    if (!guide_.is_open()) {
        walk_.follow(context);
    }
    const double margin = 12.0 * scale;
    const double walked = walk_.height(context, area.width() - 2.0 * margin);
    Box strip = take_bottom(area, walked > 0.0 ? walked + 0.5 * margin : 0.0);
    strip = {strip.left + margin, strip.top, strip.right - margin, strip.bottom - 0.5 * margin};
    if (stacks) {
        stacked_view(context, area);
    } else {
        title(context, take_top(area, 52.0 * scale));
        Box inside = inset(area, 12.0 * scale);
        inside.top = area.top;
        view(context, inside);
    }
    walk_.draw(context, strip);
    ImGui::End();
    keys.clear();
    return owed;
}

/// What was said in another language by the bench is said again.
void Desk::keep_language() {
    const wording::Language language = language_of(preferences_);
    const wording::DecimalMark mark = mark_of(preferences_);
    if (language != wording::spoken() || mark != wording::spoken_mark()) {
        wording::speak(language, mark);
        send_(bench::command::SayAgain{});
    }
}

void Desk::keep_habits() {
    const bench::Habits wanted{preferences_.answers_aloud,
                               preferences_.taps_a_spot,
                               preferences_.says_figures,
                               {preferences_.voice_language, preferences_.voice_rate}};
    if (habits_ != wanted) {
        habits_ = wanted;
        send_(bench::command::SetHabits{wanted});
    }
}

/// Tapping that was ended stays so until the input is asked to listen again, or another session
/// lies on the bench.
void Desk::keep_ear(const bench::Snapshot& now) {
    if (closed_session_ == 0 || now.executed < sent_) {
        return;
    }
    if (now.input.state != bench::InputState::off) {
        closed_session_ = 0;
    } else if (!now.plate || now.plate->session != closed_session_) {
        closed_session_ = 0;
        send_(bench::command::Listen{true});
    }
}

void Desk::global_keys(Keys& keys) {
    doors(keys);
    if (keys.take(Key::undo)) {
        send_(bench::command::UndoLast{});
    }
    if (keys.take(U'd')) {
        preferences_.dark = !preferences_.dark;
    }
    if (keys.take(U'?')) { // F12 comes as this letter
        guide_.toggle();
    }
    if (keys.take(U'G')) {
        preferences_.says_figures = !preferences_.says_figures;
    } else if (keys.take(U'g')) {
        send_(bench::command::SayFigures{});
    }
    constexpr double step = 0.125;
    if (keys.take(U'+')) {
        preferences_.text_size = std::min(2.0, preferences_.text_size + step);
    }
    if (keys.take(U'-')) {
        preferences_.text_size = std::max(0.75, preferences_.text_size - step);
    }
}

/// The bench is seen at once as far as it goes, and has the plate's name in the last line; whatever
/// is read at the desk scrolls, its title too.
void Desk::stacked_view(const ViewContext& context, const Box& box) {
    const double scale = context.look.scale;
    const bool bench = place_ == Place::bench && !guide_.is_open();
    const double margin = (bench ? 6.0 : 8.0) * scale;
    const ScrolledView scrolled(context, static_cast<int>(place_),
                                {box.left, box.top + margin, box.right, box.bottom - 4.0 * scale},
                                !bench);
    Box inside = scrolled.inside();
    if (!bench) {
        ImguiCanvas canvas = context.canvas();
        const Box head = next_column(context, inside, 0.0, 30.0 * scale);
        line(canvas, title_words(context.now), head,
             {.colour = context.palette().ink, .height = k_lead * scale, .weight = Weight::bold});
        if (context.now.plate && context.now.in_air) {
            draw_air(context, air_set_over(context),
                     next_column(context, inside, 0.0, 28.0 * scale));
        }
        inside.top = context.stacked_to;
    }
    view(context, inside);
}

void Desk::view(const ViewContext& context, const Box& box) {
    if (guide_.is_open()) {
        if (guide_.draw(context, box)) {
            begin_walk(context);
        }
        return;
    }
    switch (place_) {
    case Place::bench:
        bench_and_drift(context, box);
        break;
    case Place::drift:
        drift_.draw(context, box);
        break;
    case Place::session:
        session_.draw(context, box);
        break;
    case Place::beside:
        beside_.draw(context, box);
        break;
    case Place::plates:
        plates_.draw(context, box);
        break;
    case Place::carving:
        carving_.draw(context, box);
        break;
    case Place::wood:
        wood_.draw(context, box);
        break;
    case Place::sound:
        sound_.draw(context, box);
        break;
    case Place::settings:
        settings_.draw(context, box);
        break;
    case Place::files:
        files_.draw(context, box);
        break;
    }
}

/// Here where there are strikes to walk with, else in the demo's own window.
void Desk::begin_walk(const ViewContext& context) {
    if (context.now.recorded) {
        guide_.toggle();
        walk_.begin(context);
    } else {
        guide_.tell(context.outside.open_demo(true));
    }
}

/// Where the window is wide enough the drift stands beside the bench, where it is wider still the
/// plate beside both. The drift has its keys first: the bench takes whatever is left for a foot
/// switch.
void Desk::bench_and_drift(const ViewContext& context, Box box) {
    const double scale = context.look.scale, gap = k_column_gap * scale;
    const double whole = box.width();
    const double drift = std::clamp(0.42 * whole, k_least_drift * scale, k_most_drift * scale);
    const bool columns = !context.stacks && context.session() != nullptr;
    if (!columns || whole - drift < k_least_bench * scale) {
        bench_.draw(context, box);
        return;
    }
    std::optional<Box> plate;
    if (whole - 2.0 * gap >= (k_least_lanes + k_least_drift + k_least_plate) * scale) {
        const double room = whole - 2.0 * gap - (k_least_lanes + k_least_drift) * scale;
        plate = take_right(box, std::clamp(0.24 * whole, k_least_plate * scale,
                                           std::min(room, k_most_plate * scale)));
        take_right(box, gap);
    }
    const double most = plate ? box.width() - gap - k_least_lanes * scale : drift;
    const Box right = take_right(box, std::min(drift, most));
    take_right(box, gap);
    ImGui::PushID("beside_bench");
    drift_.draw(context, right, false);
    ImGui::PopID();
    bench_.draw(context, box, plate);
}

namespace {

struct Door {
    Place place;
    Key key;
    std::string_view cap;
    wording::Phrase words;
};
constexpr std::array k_doors{Door{Place::bench, Key::f1, "F1", "Bench"},
                             Door{Place::drift, Key::f2, "F2", "Drift"},
                             Door{Place::beside, Key::f3, "F3", "Compare"},
                             Door{Place::plates, Key::f4, "F4", "Plates"},
                             Door{Place::sound, Key::f5, "F5", "Microphone"},
                             Door{Place::settings, Key::f6, "F6", "Settings"},
                             Door{Place::session, Key::f7, "F7", "Session"},
                             Door{Place::carving, Key::f8, "F8", "Plate"},
                             Door{Place::wood, Key::f9, "F9", "Wood"},
                             Door{Place::files, Key::f10, "F10", "Files"}};

constexpr double k_understood = 170.0; // the width of a notice's button
constexpr double k_sign = 32.0;        // and of its sign

const bench::Notice* unread(const bench::Snapshot& now, std::int64_t read) {
    return now.notices.empty() || now.notices.back().number <= read ? nullptr : &now.notices.back();
}

} // namespace

void Desk::doors(Keys& keys) {
    for (const Door& door : k_doors) {
        if (keys.take(door.key)) {
            place_ = door.place;
            hide_focus();
        }
    }
}

void Desk::rail(const ViewContext& context, Box box) {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, p.panel, 0.0);
    canvas.box({box.right - scale, box.top, box.right, box.bottom}, p.line, 0.0);
    box = inset(box, 8.0 * scale);
    const bool low =
        box.height() < 602.0 * scale; // no room for the keys' caps: words alone, as high as may be
    const double gap = (low ? 3.0 : 6.0) * scale;
    const double height =
        low ? box.height() / (static_cast<double>(k_doors.size()) + 1.0) - gap : 56.0 * scale;
    for (const Door& door : k_doors) {
        const Box at = take_top(box, height);
        const Stress stress = door.place == place_ ? Stress::chosen : Stress::plain;
        if (low ? press(context, say(door.words), at, {}, stress)
                : press_door(context, say(door.words), at, door.cap, stress)) {
            place_ = door.place;
        }
        take_top(box, gap);
    }
    const Box light = take_bottom(box, low ? height : 44.0 * scale);
    if (press(context, preferences_.dark ? say("Light") : say("Dark"), light, low ? "" : "D")) {
        preferences_.dark = !preferences_.dark;
    }
}

void Desk::title(const ViewContext& context, Box box) const {
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    box.left += 14.0 * scale;
    box.right -= 14.0 * scale;
    if (!context.now.plate) {
        line(canvas, "Platewright", box,
             {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
        return;
    }
    if (place_ == Place::bench && context.session() != nullptr && !guide_.is_open()) {
        draw_session_facts(context, take_right(box, 300.0 * scale));
        take_right(box, 12.0 * scale);
    }
    if (context.now.in_air) { // seen wherever figures are that it changes
        const std::string air = air_set_over(context);
        const double room = canvas.measure(air, k_small * scale, Weight::bold).width + 36.0 * scale;
        Box chip = inset(take_right(box, room), 6.0 * scale);
        chip.top += 8.0 * scale;
        chip.bottom -= 8.0 * scale;
        draw_air(context, air, chip);
    }
    const ledger::PlateHistory& history = context.now.plate->history;
    const std::string name = plate_name(history.instrument, history.plate);
    const double width = canvas.measure(name, k_lead * scale, Weight::bold).width + 18.0 * scale;
    line(canvas, name, take_left(box, std::min(width, 0.6 * box.width())),
         {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
    std::string second = what_plate(history.instrument.kind, history.plate.part);
    if (const auto open = index_of(history.sessions, context.now.plate->session)) {
        second += ", " + say("session {} of {}", *open + 1, history.sessions.size());
    }
    const std::string_view hint = say("F12: the guide to this view");
    const double hinted =
        canvas.measure(hint, k_small * scale, Weight::regular).width + 4.0 * scale;
    const double said =
        canvas.measure(second, k_body * scale, Weight::regular).width + 24.0 * scale;
    if (said + hinted <= box.width()) { // where there is no room the key does it all the same
        line(canvas, hint, take_right(box, hinted),
             {.colour = p.faint_ink, .height = k_small * scale, .across = plot::Across::right});
    }
    const double size =
        fitting(canvas, second, box.width(), Weight::regular, {k_body * scale, k_small * scale});
    if (canvas.measure(second, size, Weight::regular).width <= box.width()) {
        line(canvas, second, box, {.colour = p.faint_ink, .height = size});
    }
}

/// As high as its sentence is long; nothing where none is to be read.
double Desk::notice_height(const ViewContext& context, double width) const {
    if (unread(context.now, notices_read_) == nullptr) {
        return 0.0;
    }
    const double scale = context.look.scale;
    const double words = width - (24.0 + 12.0 + 14.0 + k_understood + k_sign) * scale;
    const double needed =
        paragraph_height(context.canvas(), unread(context.now, notices_read_)->text, words,
                         k_body * scale, Weight::bold);
    return std::max(50.0 * scale, needed + 20.0 * scale);
}

/// One sentence, until it is put away.
void Desk::notice(const ViewContext& context, Box box) {
    if (unread(context.now, notices_read_) == nullptr) {
        return;
    }
    const bench::Notice& newest = *unread(context.now, notices_read_);
    const plot::Palette& p = context.palette();
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    box = {box.left + 12.0 * scale, box.top, box.right - 12.0 * scale, box.bottom - 6.0 * scale};
    const plot::Colour ink = newest.grave ? p.on_bad : p.on_caution;
    sheet(canvas, context.look, box, newest.grave ? p.bad : p.caution);
    Box rest = inset(box, 6.0 * scale);
    const bool away =
        press(context, say("Understood"), take_right(rest, k_understood * scale), "Esc");
    const Box sign = take_left(rest, k_sign * scale);
    canvas.mark({0.5 * (sign.left + sign.right), 0.5 * (sign.top + sign.bottom)},
                newest.grave ? plot::Shape::cross : plot::Shape::triangle, 0.5 * sign.width(), ink);
    const Box words{rest.left + 6.0 * scale, rest.top, rest.right - 8.0 * scale, rest.bottom};
    const double needed =
        paragraph_height(canvas, newest.text, words.width(), k_body * scale, Weight::bold);
    paragraph(canvas, newest.text,
              {words.left, words.top + 0.5 * (words.height() - needed), words.right, words.bottom},
              k_body * scale, ink, Weight::bold);
    if (away || context.keys.take(Key::escape)) {
        notices_read_ = newest.number;
    }
}

} // namespace platewright::screen
