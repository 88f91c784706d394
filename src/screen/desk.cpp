#include "screen/desk.hpp"

#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"
#include "screen/fields/stack.hpp"
#include "screen/rail.hpp"
#include "screen/settings/status_line.hpp"
#include "screen/title.hpp"

#include <algorithm>
#include <limits>

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
    draw_rail(context, take_left(area, 108.0 * scale));
    draw_status(context, take_bottom(area, (stacks ? 38.0 : 50.0) * scale),
                stacks && place_ == Place::bench ? title_words(now) : std::string());
    notice_.draw(context, take_bottom(area, notice_.height(context, area.width())));
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
        draw_title(context, take_top(area, 52.0 * scale), guide_.is_open());
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
    take_doors(keys, place_);
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
            draw_air(context, next_column(context, inside, 0.0, 28.0 * scale));
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
        return bench_and_drift(context, box);
    case Place::drift:
        return drift_.draw(context, box);
    case Place::session:
        return session_.draw(context, box);
    case Place::beside:
        return beside_.draw(context, box);
    case Place::plates:
        return plates_.draw(context, box);
    case Place::carving:
        return carving_.draw(context, box);
    case Place::wood:
        return wood_.draw(context, box);
    case Place::sound:
        return sound_.draw(context, box);
    case Place::settings:
        return settings_.draw(context, box);
    case Place::files:
        return files_.draw(context, box);
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

} // namespace platewright::screen
