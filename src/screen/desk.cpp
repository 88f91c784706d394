#include "screen/desk.hpp"

#include "base/text.hpp"
#include "screen/parts.hpp"
#include "screen/stack.hpp"
#include "screen/status_line.hpp"

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

/// The plate on the bench.
std::string title_words(const bench::Snapshot& now) {
    return now.plate ? plate_name(now.plate->history.instrument, now.plate->history.plate)
                     : "Platewright";
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
    const Sight sight{now,
                      send_,
                      look,
                      keys,
                      place_,
                      wishes_,
                      session_shown_,
                      outside_,
                      owed,
                      wake_in_s_,
                      stacks,
                      stacked_to,
                      now.obeyed < sent_,
                      closed_session_};
    const double scale = look.scale;
    rail(sight, take_left(area, 108.0 * scale));
    draw_status(sight, take_bottom(area, (stacks ? 38.0 : 50.0) * scale),
                stacks && place_ == Place::bench ? title_words(now) : std::string());
    notice(sight, take_bottom(area, notice_height(sight, area.width())));
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

/// Tapping that was ended stays so until the ear is asked to listen again, or another session lies
/// on the bench.
void Desk::keep_ear(const bench::Snapshot& now) {
    if (closed_session_ == 0 || now.obeyed < sent_) {
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
            const std::string air = say("changes as if at {}", air_words(sight.now.air));
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
        bench_and_drift(sight, box);
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

/// Where the window is wide enough the drift stands beside the bench, where it is wider still the
/// plate beside both. The drift has its keys first: the bench takes whatever is left for a foot
/// switch.
void Desk::bench_and_drift(const Sight& sight, Box box) {
    const double scale = sight.look.scale, gap = k_column_gap * scale;
    const double whole = box.width();
    const double drift = std::clamp(0.42 * whole, k_least_drift * scale, k_most_drift * scale);
    const bool columns = !sight.stacks && sight.session() != nullptr;
    if (!columns || whole - drift < k_least_bench * scale) {
        bench_.draw(sight, box);
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
    drift_.draw(sight, right, false);
    ImGui::PopID();
    bench_.draw(sight, box, plate);
}

} // namespace platewright::screen
