#include "screen/figure_panel.hpp"

#include "base/interval.hpp"
#include "base/text.hpp"
#include "screen/parts.hpp"
#include "trends/session_spread.hpp"
#include "wording/note.hpp"

#include <cmath>
#include <string>

namespace platewright::screen {
namespace {
using plot::Across;
using plot::Box;
using plot::Shape;
using plot::Weight;

/// Holding and striking, from Jansson's and Hutchins' teaching (trade.md; common practice).
std::string_view how_to_find(int number) {
    switch (number) {
    case 1:
        return say("Hold at the middle, strike the edge of a bout at its widest.");
    case 2:
        return say("Hold a nodal line a quarter in from an end, strike the middle of an end.");
    case 5:
        return say("Hold on the ring near the upper bout's edge, strike the centre.");
    case modes::k_a0:
    case modes::k_b1_minus:
    case modes::k_b1_plus:
        return say("Damp the strings, strike the bridge sideways at its bass corner.");
    default:
        return say("Strike elsewhere on the plate.");
    }
}

std::string certainty(const modes::ModeName& name) {
    if (name.by_maker) {
        return std::string(say("named by you"));
    }
    return name.confidence >= 0.95 ? std::string(say("sure"))
                                   : say("{} % sure", figure(100.0 * name.confidence, 0));
}

/// How a mode moved against something, or in words why that is not known.
struct Moved {
    std::string_view against;
    std::optional<double> hz;
    std::optional<double> hz_sd;
    bool matters = false; // more than hold and thread explain
    std::string_view otherwise;
};

/// `named`: with a line above it that says against what.
void draw_moved(const Sight& sight, const Box& box, const Moved& moved, bool named = true) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    Box rest = box;
    if (named) {
        line(canvas, moved.against, take_top(rest, 20.0 * scale),
             {.colour = p.faint_ink, .height = k_small * scale});
    }
    if (!moved.hz) {
        line(canvas, moved.otherwise, rest, {.colour = p.faint_ink, .height = k_lead * scale});
        return;
    }
    const double height = k_delta * scale;
    const std::string change = signed_figure(*moved.hz, 1);
    const double width = canvas.measure(change, height, Weight::bold).width;
    const plot::Colour ink = moved.matters ? p.ink : p.faint_ink;
    line(canvas, change, take_left(rest, width + 8.0 * scale),
         {.colour = ink, .height = height, .weight = Weight::bold});
    const std::string sd =
        moved.hz_sd ? "\u00b1 " + figure(base::plus_minus(*moved.hz_sd), 1) : std::string();
    line(canvas, sd, rest, {.colour = p.faint_ink, .height = k_body * scale});
}

void draw_head(const Sight& sight, const bench::ModeView& mode, const Box& box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const plot::ModeLook look = plot::mode_look(mode.number, p);
    Box rest = box;
    const Box sign = take_left(rest, 34.0 * scale);
    canvas.mark({sign.left + 12.0 * scale, 0.5 * (sign.top + sign.bottom)}, look.shape,
                22.0 * scale, look.colour);
    if (mode.now && mode.now->name) {
        line(canvas, certainty(*mode.now->name), take_right(rest, 84.0 * scale),
             {.colour = p.faint_ink, .height = k_small * scale, .across = Across::right});
    }
    line(canvas, modes::mode_text(mode.number), rest,
         {.colour = look.colour, .height = k_lead * scale, .weight = Weight::bold});
}

/// How far the mode is from its goal, where the maker set one.
std::optional<Moved> to_the_goal(const Sight& sight, const bench::ModeView& mode) {
    for (const trends::Goal& goal : sight.now.plate->goals) {
        if (goal.number == mode.number && !goal.of_reference && mode.now) {
            const double sd = trends::session_sd_hz(mode.now->mode),
                         away = mode.now->mode.frequency_hz - goal.hz;
            return Moved{.against = say("to the goal"),
                         .hz = away,
                         .hz_sd = sd,
                         .matters = std::abs(away) > base::plus_minus(sd),
                         .otherwise = {}};
        }
    }
    return std::nullopt;
}

/// Against the session before, and against the reference.
Moved since_last(const Sight& sight, const bench::ModeView& mode) {
    Moved moved{
        .against = say("since last session"), .hz = {}, .hz_sd = {}, .otherwise = say("not known")};
    if (sight.now.plate->history.sessions.size() < 2) {
        moved.otherwise = say("the first");
    }
    if (const auto& since = mode.since_last) {
        moved.hz = since->hz;
        moved.hz_sd = since->hz_sd;
        moved.matters = std::abs(since->hz) > base::plus_minus(since->hz_sd);
    }
    return moved;
}
Moved against_reference(const Sight& sight, const bench::ModeView& mode) {
    if (const auto goal = to_the_goal(sight, mode)) {
        return *goal;
    }
    Moved moved{.against = say("against the reference"),
                .hz = {},
                .hz_sd = {},
                .otherwise = say("not known")};
    if (!sight.now.plate->reference) {
        moved.otherwise = say("none chosen");
    }
    if (const auto& against = mode.against_reference) {
        moved.hz = against->hz;
        moved.hz_sd = against->hz_sd;
        moved.matters = against->beyond_spread;
    }
    return moved;
}

constexpr double k_beside = 84.0; // what stands beside a figure in its row

/// The mode's sign and name, and how sure the name is where it is not quite.
void draw_short_head(const Sight& sight, const bench::ModeView& mode, Box box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const plot::ModeLook look = plot::mode_look(mode.number, p);
    const Box sign = take_left(box, 24.0 * scale);
    canvas.mark({sign.left + 8.0 * scale, 0.5 * (sign.top + sign.bottom)}, look.shape, 16.0 * scale,
                look.colour);
    const std::string name = modes::mode_text(mode.number);
    const double width = canvas.measure(name, k_body * scale, Weight::bold).width + 8.0 * scale;
    line(canvas, name, take_left(box, width),
         {.colour = look.colour, .height = k_body * scale, .weight = Weight::bold});
    if (mode.now && mode.now->name) {
        const std::string sure = certainty(*mode.now->name);
        if (canvas.measure(sure, k_small * scale, Weight::regular).width <= box.width()) {
            line(canvas, sure, box, {.colour = p.faint_ink, .height = k_small * scale});
        }
    }
}

/// What is likely to be tapped after the next gram, and how many are left to the reference; each
/// with its range. As frequencies, not as changes: the line through the sessions is another origin
/// than the session above it.
void draw_ahead(const Sight& sight, const bench::ModeView& mode, Box box) {
    const trends::Forecast& forecast = *mode.forecast;
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    const trends::Interval then = trends::hz_at(forecast, forecast.mass_g - 1.0);
    const plot::Lettering small{.colour = sight.palette().ink, .height = k_small * scale};
    line(canvas,
         say("1 g less: {} Hz ({} to {})", figure(then.value, 1), figure(then.low, 1),
             figure(then.high, 1)),
         take_top(box, 20.0 * scale), small);
    const auto& against = mode.against_reference;
    const auto left = against && against->reference
                          ? trends::grams_to(forecast, against->reference->frequency_hz)
                          : std::nullopt;
    if (left) {
        line(canvas,
             left->high < forecast.mass_g
                 ? say("to the reference: {} g ({} to {})", figure(left->value, 1),
                       figure(left->low, 1), figure(left->high, 1))
                 : say("to the reference: {} g or more", figure(left->low, 1)),
             box, small);
    }
}

} // namespace

void draw_figure(const Sight& sight, const bench::ModeView& mode, const Box& box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    Box rest = inset(box, 14.0 * scale);
    draw_head(sight, mode, take_top(rest, 28.0 * scale));
    Box figure_box = take_top(rest, 98.0 * scale);
    if (!mode.now) {
        line(canvas, "\u2013", figure_box,
             {.colour = p.faint_ink, .height = k_figure * scale, .weight = Weight::bold});
        line(canvas, say("not found yet"), take_top(rest, 26.0 * scale),
             {.colour = p.ink, .height = k_lead * scale});
        paragraph(canvas, how_to_find(mode.number), rest, k_body * scale, p.faint_ink);
        return;
    }
    const modes::Mode& now = mode.now->mode;
    const std::string hz = figure(now.frequency_hz, 1);
    const double width = canvas.measure(hz, k_figure * scale, Weight::bold).width;
    line(canvas, hz, take_left(figure_box, std::min(width + 8.0 * scale, figure_box.width())),
         {.colour = p.ink, .height = k_figure * scale, .weight = Weight::bold});
    figure_box.top += 34.0 * scale;
    line(canvas, "Hz", figure_box, {.colour = p.faint_ink, .height = k_lead * scale});

    const std::string spread =
        now.taps > 1 ? say("spread \u00b1 {} Hz over {} taps", figure(now.spread_hz, 2), now.taps)
                     : std::string(say("one tap: spread not known"));
    Box facts = take_top(rest, 26.0 * scale);
    line(canvas, "Q " + figure(now.q, 0), take_right(facts, 70.0 * scale),
         {.colour = p.ink,
          .height = k_lead * scale,
          .across = Across::right,
          .weight = Weight::bold});
    line(canvas, spread, facts, {.colour = p.faint_ink, .height = k_body * scale});

    if (sight.wishes.note_names) {
        line(canvas, wording::note_text(now.frequency_hz, sight.wishes.reference_pitch_hz),
             take_top(rest, 20.0 * scale), {.colour = p.faint_ink, .height = k_small * scale});
    }
    if (mode.forecast) {
        draw_ahead(sight, mode, take_bottom(rest, 40.0 * scale));
    }
    rest.top += 4.0 * scale;
    canvas.box({rest.left, rest.top, rest.right, rest.top + scale}, p.line, 0.0);
    rest.top += 6.0 * scale;
    const Box last = take_left(rest, 0.5 * rest.width());
    draw_moved(sight, last, since_last(sight, mode));
    draw_moved(sight, rest, against_reference(sight, mode));
}

void draw_figure_row(const Sight& sight, const bench::ModeView& mode, const Box& box) {
    const plot::Palette& p = sight.palette();
    const double scale = sight.look.scale;
    ImguiCanvas canvas = sight.canvas();
    sheet(canvas, sight.look, box);
    Box rest{box.left + 8.0 * scale, box.top, box.right - 8.0 * scale, box.bottom};
    const std::string hz =
        mode.now ? figure(mode.now->mode.frequency_hz, 1) : std::string("\u2013");
    // A notice that is not put away yet may have taken some of its height.
    const double height = std::min(k_figure * scale, box.height());
    const double width = canvas.measure(hz, height, Weight::bold).width + 14.0 * scale;
    const Box large = take_left(rest, mode.now ? std::max(width, 250.0 * scale) : width);
    line(canvas, hz, large,
         {.colour = mode.now ? p.ink : p.faint_ink, .height = height, .weight = Weight::bold});
    const Box unit{large.left + width - 6.0 * scale, 0.5 * (large.top + large.bottom), large.right,
                   large.bottom - 8.0 * scale};
    if (mode.now && canvas.measure("Hz", k_body * scale, Weight::regular).width <= unit.width()) {
        line(canvas, "Hz", unit, {.colour = p.faint_ink, .height = k_body * scale});
    }
    const bool high = box.height() >= k_beside * scale;
    const double changes = (high ? 58.0 : 38.0) * scale;
    rest.top = 0.5 * (box.top + box.bottom - 26.0 * scale - changes);
    if (mode.now) {
        draw_short_head(sight, mode, take_top(rest, 26.0 * scale));
        const double column = 190.0 * scale;
        const bool both = rest.width() >= 2.0 * column;
        const Box last = take_left(rest, both ? column : rest.width());
        draw_moved(sight, {last.left, last.top, last.right, last.top + changes},
                   since_last(sight, mode), high);
        if (both) {
            draw_moved(sight, {rest.left, rest.top, rest.right, rest.top + changes},
                       against_reference(sight, mode), high);
        }
        return;
    }
    draw_short_head(sight, mode, take_top(rest, 26.0 * scale));
    const std::string words =
        std::string(say("not found yet")) + ". " + std::string(how_to_find(mode.number));
    const bool fits =
        paragraph_height(canvas, words, rest.width(), k_body * scale) <= rest.height();
    paragraph(canvas, words, rest, (fits ? k_body : k_small) * scale, p.ink);
}

} // namespace platewright::screen
