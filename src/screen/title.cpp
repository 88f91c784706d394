#include "screen/title.hpp"

#include "base/text.hpp"
#include "screen/bench/plate_side.hpp"
#include "screen/draw/parts.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Weight;

/// What is said wherever figures are that it changes.
std::string air_set_over(const ViewContext& context) {
    return say("changes as if at {}", air_words(context.now.air));
}

} // namespace

std::string title_words(const bench::Snapshot& now) {
    return now.plate ? plate_name(now.plate->history.instrument, now.plate->history.plate)
                     : "Platewright";
}

void draw_air(const ViewContext& context, const Box& chip) {
    ImguiCanvas canvas = context.canvas();
    canvas.box(chip, context.palette().caution, 0.5 * chip.height());
    line(canvas, air_set_over(context), chip,
         {.colour = context.palette().on_caution,
          .height = k_small * context.look.scale,
          .across = plot::Across::centre,
          .weight = Weight::bold});
}

void draw_title(const ViewContext& context, Box box, bool in_guide) {
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
    if (context.place == Place::bench && context.session() != nullptr && !in_guide) {
        draw_session_facts(context, take_right(box, 300.0 * scale));
        take_right(box, 12.0 * scale);
    }
    if (context.now.in_air) { // seen wherever figures are that it changes
        const double room =
            canvas.measure(air_set_over(context), k_small * scale, Weight::bold).width +
            36.0 * scale;
        Box chip = inset(take_right(box, room), 6.0 * scale);
        chip.top += 8.0 * scale;
        chip.bottom -= 8.0 * scale;
        draw_air(context, chip);
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

} // namespace platewright::screen
