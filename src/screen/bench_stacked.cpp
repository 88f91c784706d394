#include "screen/answer_strip.hpp"
#include "screen/bench_view.hpp"
#include "screen/decision_strip.hpp"
#include "screen/figure_panel.hpp"
#include "screen/naming_words.hpp"
#include "screen/parts.hpp"

#include <algorithm>
#include <cmath>

// The bench with letters too large for its parts beside each other. It is read from two metres with
// both hands full, so nothing of it scrolls: the answer and the three figures stay, what is lesser
// goes as room goes.

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

constexpr double k_answer = 66.0;
constexpr double k_row = 92.0; // a figure's letters and no more
constexpr double k_gap = 4.0;
constexpr double k_naming = 74.0;
constexpr double k_tap_strip = 36.0;

} // namespace

void BenchView::draw_stacked(const Sight& sight, Box area) {
    const double scale = sight.look.scale, gap = k_gap * scale;
    if (side_.writing()) {
        side_.draw_wide(sight, area);
        return;
    }
    if (naming_) { // there is no answer to be waited for meanwhile
        name_a_mode(sight, take_top(area, k_naming * scale));
        take_top(area, gap);
        stacked_figures(sight, area);
        return;
    }
    ImguiCanvas canvas = sight.canvas();
    Box head = take_top(area, k_answer * scale);
    take_top(area, gap);
    const std::string_view other = aside_ ? say("Figures") : say("More");
    const double width = canvas.measure(other, k_body * scale, Weight::bold).width + 56.0 * scale;
    if (press(sight, other, take_right(head, width), "X") || sight.keys.take(U'x')) {
        aside_ = !aside_;
    }
    take_right(head, gap);
    draw_answer(sight, head);
    if (aside_) {
        if (side_.draw_wide(sight, area)) {
            naming_ = 0;
        }
    } else {
        stacked_figures(sight, area);
    }
    if (!side_.writing() && sight.keys.take_any()) {
        strike_at_next_spot(sight);
    }
}

/// The figures one under another; above them the taps and what is not sure, where that leaves them
/// their height.
void BenchView::stacked_figures(const Sight& sight, Box area) const {
    const double scale = sight.look.scale, gap = k_gap * scale;
    const auto& all = sight.now.plate->figures;
    // A strip below (the first walk) may leave room for fewer: letters on one another say nothing.
    const double fitting = std::floor((area.height() + gap) / (0.9 * k_row * scale + gap));
    const std::size_t shown =
        std::min({all.size(), std::size_t{3}, static_cast<std::size_t>(std::max(1.0, fitting))});
    if (shown == 0) {
        return;
    }
    const auto count = static_cast<double>(shown);
    double spare = area.height() - count * k_row * scale - (count - 1.0) * gap;
    const auto fits = [&spare](double height) {
        const bool room = height <= spare;
        spare -= room ? height : 0.0;
        return room;
    };
    if (const double decided = decision_height(sight, area.width()); fits(decided + gap)) {
        take_top(area, draw_decision(sight, area));
        take_top(area, gap);
    }
    const std::string& words = doubt_words(*sight.now.plate);
    const double doubtful =
        paragraph_height(sight.canvas(), words, area.width() - 16.0 * scale, k_body * scale) +
        8.0 * scale;
    if (!words.empty() && fits(doubtful + gap)) {
        ImguiCanvas canvas = sight.canvas();
        const Box box = take_top(area, doubtful);
        sheet(canvas, sight.look, box, sight.palette().caution);
        paragraph(
            canvas, words,
            {box.left + 8.0 * scale, box.top + 4.0 * scale, box.right - 8.0 * scale, box.bottom},
            k_body * scale, sight.palette().on_caution);
        take_top(area, gap);
    }
    if (fits(k_tap_strip * scale + gap)) {
        draw_tap_strip(sight, take_top(area, k_tap_strip * scale));
        take_top(area, gap);
    }
    const double height = (area.height() - (count - 1.0) * gap) / count;
    for (std::size_t i = 0; i < shown; ++i) {
        draw_figure_row(sight, all[i], take_top(area, height));
        take_top(area, gap);
    }
}

void BenchView::stacked_naming(const Sight& sight, Box box, Said& said) const {
    const bench::PlateView& plate = *sight.now.plate;
    const double scale = sight.look.scale;
    const modes::NamedMode& mode = plate.naming.modes[*naming_];
    ImguiCanvas canvas = sight.canvas();
    const std::string question = naming_question(mode);
    const bool fits = canvas.measure(question, k_body * scale, Weight::bold).width <= box.width();
    line(canvas, question, take_top(box, 24.0 * scale),
         {.colour = sight.palette().ink,
          .height = (fits ? k_body : k_small) * scale,
          .weight = Weight::bold});
    const auto button = [&](std::string_view words, Stress stress) {
        const double width =
            canvas.measure(words, k_body * scale, Weight::bold).width + 22.0 * scale;
        const bool pressed = press(sight, words, take_left(box, width), {}, stress);
        take_left(box, 4.0 * scale);
        return pressed;
    };
    for (const int number : names_for(plate)) {
        const bool now = mode.name && mode.name->number == number;
        if (button(name_word(plate, number), now ? Stress::chosen : Stress::plain)) {
            said.name = number;
        }
    }
    if (button(say("no name"), Stress::plain)) {
        said.name = 0;
    }
    said.done |= button(say("Done"), Stress::plain);
}

} // namespace platewright::screen
