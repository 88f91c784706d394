#include "screen/bench/naming_bar.hpp"

#include "screen/draw/parts.hpp"

#include <vector>

namespace platewright::screen {
namespace {

using plot::Box;
using plot::Weight;

constexpr double k_one_row_bar = 760.0; // a narrower bar has its buttons below its question

/// The numbers a mode of this plate or closed body can bear.
std::vector<int> names_for(const bench::PlateView& plate) {
    return plate.history.plate.part == modes::Part::body
               ? std::vector{modes::k_a0, modes::k_cbr, modes::k_b1_minus, modes::k_b1_plus}
               : std::vector{1, 2, 3, 4, 5, 6};
}

std::string name_word(const bench::PlateView& plate, int number) {
    return plate.history.plate.part == modes::Part::body ? modes::mode_text(number)
                                                         : std::to_string(number);
}

std::string question(const modes::NamedMode& mode) {
    return say("{} Hz: which mode is it? \u2190 \u2192 another", figure(mode.mode.frequency_hz, 1));
}

} // namespace

NamingBar::Said NamingBar::keys(const ViewContext& context) {
    const auto& all = context.now.plate->naming.modes;
    if (context.keys.take(Key::left) && *mode_ > 0) {
        --*mode_;
    }
    if (context.keys.take(Key::right) && *mode_ + 1 < all.size()) {
        ++*mode_;
    }
    Said said;
    said.done = context.keys.take(Key::escape) || context.keys.take(Key::enter);
    if (context.keys.take(U'0')) {
        said.name = 0;
    }
    const std::vector<int> numbers = names_for(*context.now.plate);
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        if (context.keys.take(U"123456"[i])) {
            said.name = numbers[i];
        }
    }
    return said;
}

void NamingBar::draw(const ViewContext& context, Box box) {
    Said said = keys(context);
    ImguiCanvas canvas = context.canvas();
    sheet(canvas, context.look, box, context.palette().panel);
    if (context.stacks || box.width() < k_one_row_bar * context.look.scale) {
        stacked(context, inset(box, 5.0 * context.look.scale), said);
    } else {
        in_a_row(context, inset(box, 7.0 * context.look.scale), said);
    }
    if (said.name) {
        const double hz = context.now.plate->naming.modes[*mode_].mode.frequency_hz;
        context.send(bench::command::NameMode{hz, *said.name == 0 ? std::nullopt : said.name});
    }
    if (said.done) {
        mode_.reset();
    }
}

void NamingBar::in_a_row(const ViewContext& context, Box box, Said& said) const {
    const bench::PlateView& plate = *context.now.plate;
    const double scale = context.look.scale;
    const modes::NamedMode& mode = plate.naming.modes[*mode_];
    ImguiCanvas canvas = context.canvas();
    said.done |= press(context, say("Done"), take_right(box, 110.0 * scale), "Esc");
    take_right(box, 8.0 * scale);
    if (press(context, say("no name"), take_right(box, 140.0 * scale), "0")) {
        said.name = 0;
    }
    const bool of_body = plate.history.plate.part == modes::Part::body;
    const std::vector<int> numbers = names_for(plate);
    for (std::size_t i = numbers.size(); i-- > 0;) {
        take_right(box, 5.0 * scale);
        const bool now = mode.name && mode.name->number == numbers[i];
        if (press(context, name_word(plate, numbers[i]),
                  take_right(box, (of_body ? 58.0 : 36.0) * scale), {},
                  now ? Stress::chosen : Stress::plain)) {
            said.name = numbers[i];
        }
    }
    const std::string words = question(mode);
    line(canvas, words, box,
         {.colour = context.palette().ink,
          .height = fitting(canvas, words, box.width(), Weight::bold,
                            {k_lead * scale, k_body * scale, k_small * scale}),
          .weight = Weight::bold});
}

void NamingBar::stacked(const ViewContext& context, Box box, Said& said) const {
    const bench::PlateView& plate = *context.now.plate;
    const double scale = context.look.scale;
    const modes::NamedMode& mode = plate.naming.modes[*mode_];
    ImguiCanvas canvas = context.canvas();
    const std::string words = question(mode);
    line(canvas, words, take_top(box, 24.0 * scale),
         {.colour = context.palette().ink,
          .height =
              fitting(canvas, words, box.width(), Weight::bold, {k_body * scale, k_small * scale}),
          .weight = Weight::bold});
    const auto button = [&](std::string_view label, Stress stress) {
        const double width =
            canvas.measure(label, k_body * scale, Weight::bold).width + 22.0 * scale;
        const bool pressed = press(context, label, take_left(box, width), {}, stress);
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
