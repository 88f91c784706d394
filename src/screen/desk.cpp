#include "screen/desk.hpp"

#include "base/text.hpp"
#include "screen/parts.hpp"
#include "screen/stack.hpp"
#include "screen/status_line.hpp"

#include <algorithm>
#include <array>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

struct Door {
    Place place;
    Key key;
    std::string_view cap;
    wording::Phrase words;
};
constexpr std::array k_doors{Door{Place::bench, Key::f1, "F1", "Bench"},
                             Door{Place::drift, Key::f2, "F2", "Drift"},
                             Door{Place::beside, Key::f3, "F3", "Beside"},
                             Door{Place::plates, Key::f4, "F4", "Plates"},
                             Door{Place::sound, Key::f5, "F5", "Ear"},
                             Door{Place::settings, Key::f6, "F6", "Settings"},
                             Door{Place::session, Key::f7, "F7", "Session"},
                             Door{Place::carving, Key::f8, "F8", "Carve"},
                             Door{Place::wood, Key::f9, "F9", "Wood"},
                             Door{Place::files, Key::f10, "F10", "Files"}};

constexpr ImGuiWindowFlags k_whole_window =
    ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoBackground | ImGuiWindowFlags_NoMove |
    ImGuiWindowFlags_NoSavedSettings | ImGuiWindowFlags_NoBringToFrontOnFocus |
    ImGuiWindowFlags_NoScrollWithMouse;

constexpr double k_understood = 170.0; // the width of a notice's button
constexpr double k_sign = 32.0;        // and of its sign

/// The plate on the bench.
std::string title_words(const bench::Snapshot& now) {
    return now.plate ? plate_name(now.plate->history.instrument, now.plate->history.plate)
                     : "Platewright";
}

const bench::Notice* unread(const bench::Snapshot& now, std::int64_t read) {
    return now.notices.empty() || now.notices.back().number <= read ? nullptr : &now.notices.back();
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
    int owed = 0;
    Box area{0.0, 0.0, static_cast<double>(size.x), static_cast<double>(size.y)};
    const bool stacks = !has_room(area.width(), area.height(), look.scale);
    double stacked_to = 0.0;
    const Sight sight{now,    send_,   look,           keys,
                      place_, wishes_, session_shown_, outside_,
                      owed,   stacks,  stacked_to,     now.obeyed < sent_};
    const double scale = look.scale;
    rail(sight, take_left(area, 108.0 * scale));
    draw_status(sight, take_bottom(area, (stacks ? 38.0 : 50.0) * scale),
                stacks && place_ == Place::bench ? title_words(now) : std::string());
    if (unread(now, notices_read_) != nullptr) {
        notice(sight, take_bottom(area, notice_height(sight, area.width())));
    }
    if (!guide_.is_open()) {
        walk_.follow(sight);
    }
    const double margin = 12.0 * scale;
    const double walked = walk_.height(sight, area.width() - 2.0 * margin);
    Box strip = take_bottom(area, walked > 0.0 ? walked + 0.5 * margin : 0.0);
    strip = {strip.left + margin, strip.top, strip.right - margin, strip.bottom - 0.5 * margin};
    if (stacks) {
        stacked_view(sight, area);
    } else {
        title(sight, take_top(area, 52.0 * scale));
        Box inside = inset(area, 12.0 * scale);
        inside.top = area.top;
        view(sight, inside);
    }
    walk_.draw(sight, strip);
    ImGui::End();
    keys.clear();
    return owed;
}

/// What was said in another language by the bench is said again.
void Desk::keep_language() {
    const wording::Language language = language_of(wishes_);
    const wording::DecimalMark mark = mark_of(wishes_);
    if (language != wording::spoken() || mark != wording::spoken_mark()) {
        wording::speak(language, mark);
        send_(bench::command::SayAgain{});
    }
}

void Desk::keep_habits() {
    const bench::Habits wanted{wishes_.answers_aloud,
                               wishes_.taps_a_spot,
                               wishes_.says_figures,
                               {wishes_.voice_language, wishes_.voice_rate}};
    if (habits_ != wanted) {
        habits_ = wanted;
        send_(bench::command::SetHabits{wanted});
    }
}

void Desk::global_keys(Keys& keys) {
    for (const Door& door : k_doors) {
        if (keys.take(door.key)) {
            place_ = door.place;
        }
    }
    if (keys.take(Key::undo)) {
        send_(bench::command::UndoLast{});
    }
    if (keys.take(U'd')) {
        wishes_.dark = !wishes_.dark;
    }
    if (keys.take(U'?')) { // F12 comes as this letter
        guide_.toggle();
    }
    if (keys.take(U'G')) {
        wishes_.says_figures = !wishes_.says_figures;
    } else if (keys.take(U'g')) {
        send_(bench::command::SayFigures{});
    }
    constexpr double step = 0.125;
    if (keys.take(U'+')) {
        wishes_.text_size = std::min(2.0, wishes_.text_size + step);
    }
    if (keys.take(U'-')) {
        wishes_.text_size = std::max(0.75, wishes_.text_size - step);
    }
}

void Desk::rail(const Sight& sight, Box box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
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
        if (low ? press(sight, say(door.words), at, {}, stress)
                : press_door(sight, say(door.words), at, door.cap, stress)) {
            place_ = door.place;
        }
        take_top(box, gap);
    }
    const Box light = take_bottom(box, low ? height : 44.0 * scale);
    if (press(sight, wishes_.dark ? say("Light") : say("Dark"), light, low ? "" : "D")) {
        wishes_.dark = !wishes_.dark;
    }
}

void Desk::title(const Sight& sight, Box box) const {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    box.left += 14.0 * scale;
    box.right -= 14.0 * scale;
    if (!sight.now.plate) {
        line(canvas, "Platewright", box,
             {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
        return;
    }
    if (sight.now.in_air) { // seen wherever figures are that it changes
        const std::string air = say("changes in one air: {}", air_words(sight.now.air));
        const double room = canvas.measure(air, k_small * scale, Weight::bold).width + 36.0 * scale;
        Box chip = inset(take_right(box, room), 6.0 * scale);
        chip.top += 8.0 * scale;
        chip.bottom -= 8.0 * scale;
        canvas.box(chip, p.caution, 0.5 * chip.height());
        line(canvas, air, chip,
             {.colour = p.on_caution,
              .height = k_small * scale,
              .across = plot::Across::centre,
              .weight = Weight::bold});
    }
    const ledger::PlateHistory& history = sight.now.plate->history;
    const std::string name = plate_name(history.instrument, history.plate);
    const double width = canvas.measure(name, k_lead * scale, Weight::bold).width + 18.0 * scale;
    line(canvas, name, take_left(box, std::min(width, 0.6 * box.width())),
         {.colour = p.ink, .height = k_lead * scale, .weight = Weight::bold});
    const auto& sessions = history.sessions;
    const auto open = std::find_if(sessions.begin(), sessions.end(), [&](const auto& s) {
        return s.session.id == sight.now.plate->session;
    });
    std::string second = what_plate(history.instrument.kind, history.plate.part);
    if (open != sessions.end()) {
        second += ", " + say("session {} of {}", open - sessions.begin() + 1, sessions.size());
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
    line(canvas, second, box, {.colour = p.faint_ink, .height = k_body * scale});
}

/// The bench is seen at once as far as it goes, and has the plate's name in the last line; whatever
/// is read at the desk scrolls, its title too.
void Desk::stacked_view(const Sight& sight, const Box& box) {
    const double scale = sight.look.scale;
    const bool bench = place_ == Place::bench && !guide_.is_open();
    const double margin = (bench ? 6.0 : 8.0) * scale;
    const ScrolledView scrolled(sight, static_cast<int>(place_),
                                {box.left, box.top + margin, box.right, box.bottom - 4.0 * scale},
                                !bench);
    Box inside = scrolled.inside();
    if (!bench) {
        ImguiCanvas canvas = sight.canvas();
        const Box head = next_column(sight, inside, 0.0, 30.0 * scale);
        line(canvas, title_words(sight.now), head,
             {.colour = sight.palette().ink, .height = k_lead * scale, .weight = Weight::bold});
        if (sight.now.plate && sight.now.in_air) {
            const std::string air = say("changes in one air: {}", air_words(sight.now.air));
            const Box chip = next_column(sight, inside, 0.0, 28.0 * scale);
            canvas.box(chip, sight.palette().caution, 0.5 * chip.height());
            line(canvas, air, chip,
                 {.colour = sight.palette().on_caution,
                  .height = k_small * scale,
                  .across = plot::Across::centre,
                  .weight = Weight::bold});
        }
        inside.top = sight.stacked_to;
    }
    view(sight, inside);
}

void Desk::view(const Sight& sight, const Box& box) {
    if (guide_.is_open()) {
        if (guide_.draw(sight, box)) {
            begin_walk(sight);
        }
        return;
    }
    switch (place_) {
    case Place::bench:
        bench_.draw(sight, box);
        break;
    case Place::drift:
        drift_.draw(sight, box);
        break;
    case Place::session:
        session_.draw(sight, box);
        break;
    case Place::beside:
        beside_.draw(sight, box);
        break;
    case Place::plates:
        plates_.draw(sight, box);
        break;
    case Place::carving:
        carving_.draw(sight, box);
        break;
    case Place::wood:
        wood_.draw(sight, box);
        break;
    case Place::sound:
        sound_.draw(sight, box);
        break;
    case Place::settings:
        settings_.draw(sight, box);
        break;
    case Place::files:
        files_.draw(sight, box);
        break;
    }
}

/// Here where there are strikes to walk with, else in the demo's own window.
void Desk::begin_walk(const Sight& sight) {
    if (sight.now.recorded) {
        guide_.toggle();
        walk_.begin(sight);
    } else {
        guide_.tell(sight.outside.open_demo(true));
    }
}

/// As high as its sentence is long.
double Desk::notice_height(const Sight& sight, double width) const {
    const double scale = sight.look.scale;
    const double words = width - (24.0 + 12.0 + 14.0 + k_understood + k_sign) * scale;
    const double needed = paragraph_height(sight.canvas(), unread(sight.now, notices_read_)->text,
                                           words, k_body * scale, Weight::bold);
    return std::max(50.0 * scale, needed + 20.0 * scale);
}

/// One sentence, until it is put away.
void Desk::notice(const Sight& sight, Box box) {
    const bench::Notice& newest = *unread(sight.now, notices_read_);
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    box = {box.left + 12.0 * scale, box.top, box.right - 12.0 * scale, box.bottom - 6.0 * scale};
    const plot::Colour ink = newest.grave ? p.on_bad : p.on_caution;
    sheet(canvas, sight.look, box, newest.grave ? p.bad : p.caution);
    Box rest = inset(box, 6.0 * scale);
    const bool away =
        press(sight, say("Understood"), take_right(rest, k_understood * scale), "Esc");
    const Box sign = take_left(rest, k_sign * scale);
    canvas.mark({0.5 * (sign.left + sign.right), 0.5 * (sign.top + sign.bottom)},
                newest.grave ? plot::Shape::cross : plot::Shape::triangle, 0.5 * sign.width(), ink);
    const Box words{rest.left + 6.0 * scale, rest.top, rest.right - 8.0 * scale, rest.bottom};
    const double needed =
        paragraph_height(canvas, newest.text, words.width(), k_body * scale, Weight::bold);
    paragraph(canvas, newest.text,
              {words.left, words.top + 0.5 * (words.height() - needed), words.right, words.bottom},
              k_body * scale, ink, Weight::bold);
    if (away || sight.keys.take(Key::escape)) {
        notices_read_ = newest.number;
    }
}

} // namespace platewright::screen
