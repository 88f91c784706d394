#include "screen/bench/lanes.hpp"

#include "base/interval.hpp"
#include "screen/bench/lane.hpp"
#include "screen/draw/parts.hpp"
#include "wording/language.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>

namespace platewright::screen {
namespace {
using plot::Across;
using plot::Box;
using plot::Point;
using plot::Weight;

constexpr double k_low = 118.0;        // a lane lower than that has its doubt beside its difference
constexpr double k_with_scale = 560.0; // a narrower one has no scale
constexpr double k_name = 186.0, k_difference = 214.0, k_beside = 6.0; // widths beside the scale
constexpr double k_least = 58.0;
constexpr double k_one_row_lane = 74.0; // and one lower than that its name beside its frequency
constexpr double k_fact_row = 19.0;     // of the small facts

/// One lane being drawn.
struct Drawing {
    const ViewContext& context;
    const Lane& lane;
    ImguiCanvas canvas;
    double scale;
    plot::ModeLook look;
    const plot::Palette& p;
    double reach;
};

/// The session's figures of the mode, as far as there is room for them.
void small_facts(Drawing& d, Box box) {
    if (!d.lane.figure->now) {
        return;
    }
    const modes::Mode& now = d.lane.figure->now->mode;
    std::vector<std::string> facts{
        now.taps > 1 ? say("spread {} Hz, {} taps", figure(now.spread_hz, 2), now.taps)
                     : say("one tap: spread not known"),
        "Q " + figure(now.q, 0)};
    if (d.context.preferences.note_names) {
        facts.back() +=
            ", " + wording::note_text(now.frequency_hz, d.context.preferences.reference_pitch_hz);
    }
    facts.push_back(modes::mode_text(d.lane.number));
    for (const std::string& fact : facts) {
        if (box.height() < k_fact_row * d.scale) {
            return;
        }
        line(d.canvas, fact, take_top(box, k_fact_row * d.scale),
             {.colour = d.p.faint_ink, .height = k_small * d.scale});
    }
}

void draw_name(Drawing& d, Box box) {
    const double scale = d.scale;
    const bool low = box.height() < k_one_row_lane * scale;
    Box head = take_top(box, low ? box.height() : 40.0 * scale);
    const Box sign = take_left(head, 36.0 * scale);
    d.canvas.mark({sign.left + 14.0 * scale, 0.5 * (sign.top + sign.bottom)}, d.look.shape,
                  28.0 * scale, d.look.colour);
    const std::string number = d.lane.number >= modes::k_a0 ? modes::mode_text(d.lane.number)
                                                            : std::to_string(d.lane.number);
    const double width = d.canvas.measure(number, k_delta * scale, Weight::bold).width;
    line(d.canvas, number, take_left(head, width + 10.0 * scale),
         {.colour = d.look.colour, .height = k_delta * scale, .weight = Weight::bold});
    if (!low && d.lane.figure->now && d.lane.figure->now->name) {
        const std::string sure = certainty(*d.lane.figure->now->name);
        if (d.canvas.measure(sure, k_small * scale, Weight::regular).width <= head.width()) {
            line(d.canvas, sure, head, {.colour = d.p.faint_ink, .height = k_small * scale});
        }
    }
    if (low) {
        box = head;
    }
    const auto& now = d.lane.figure->now; // as measured, whatever the difference is set over to
    const std::optional<double> hz = now ? std::optional(now->mode.frequency_hz) : d.lane.last_hz;
    const std::string words = hz ? figure(*hz, 1) : std::string("\u2013");
    Box figures = take_top(box, low ? box.height() : 38.0 * scale);
    const double wide = d.canvas.measure(words, k_delta * scale, Weight::bold).width;
    line(d.canvas, words, take_left(figures, wide + 6.0 * scale),
         {.colour = now ? d.p.ink : d.p.faint_ink,
          .height = k_delta * scale,
          .weight = Weight::bold});
    const std::string_view unit = now ? std::string_view("Hz") : say("last session");
    if (hz && d.canvas.measure(unit, k_small * scale, Weight::regular).width <= figures.width()) {
        figures.top += 8.0 * scale;
        line(d.canvas, unit, figures, {.colour = d.p.faint_ink, .height = k_small * scale});
    }
    small_facts(d, box);
}

/// Not heard yet in this session: how it is asked for.
void draw_wanted(Drawing& d, Box box) {
    const double scale = d.scale;
    box.top += std::min(8.0 * scale, 0.06 * box.height());
    const std::string_view words = say("not found yet");
    line(d.canvas, words, take_top(box, 30.0 * scale),
         {.colour = d.p.ink,
          .height = fitting(d.canvas, words, box.width(), Weight::bold,
                            {k_lead * scale, k_body * scale, k_small * scale}),
          .weight = Weight::bold});
    const std::string_view how = how_to_find(d.lane.number);
    for (const double size : {k_body * scale, k_small * scale}) {
        if (paragraph_height(d.canvas, how, box.width(), size) <= box.height()) {
            paragraph(d.canvas, how, box, size, d.p.ink);
            return;
        }
    }
}

/// How far it is from where it is to be; pale while that may be the hold.
void draw_difference(Drawing& d, Box box) {
    const double scale = d.scale;
    if (!d.lane.now_hz) {
        draw_wanted(d, box);
        return;
    }
    const bool nothing = !d.lane.away_hz;
    const std::string words =
        nothing ? figure(*d.lane.now_hz, 1) : signed_figure(*d.lane.away_hz, 1);
    const std::string doubt =
        "\u00b1 " + figure(nothing ? *d.lane.doubt_hz : d.lane.away_doubt_hz.value_or(0.0), 1) +
        " Hz";
    const bool within = !nothing && std::abs(*d.lane.away_hz) <= d.lane.away_doubt_hz.value_or(0.0);
    const plot::Colour ink = within ? d.p.faint_ink : d.p.ink;
    const std::string_view against = against_words(d.lane.against);
    const auto small = [&](std::string_view text, const Box& row) {
        line(d.canvas, text, row,
             {.colour = d.p.faint_ink,
              .height = fitting(d.canvas, text, row.width(), Weight::regular,
                                {k_body * scale, k_small * scale})});
    };
    const bool low = box.height() < k_low * scale;
    const Box foot = take_bottom(box, std::min(24.0 * scale, 0.26 * box.height()));
    Box beside =
        low ? take_right(box, d.canvas.measure(doubt, k_lead * scale, Weight::regular).width +
                                  4.0 * scale)
            : take_bottom(box, 38.0 * scale);
    const double size = fitting(d.canvas, words, box.width(), Weight::bold,
                                {std::min(k_figure * scale, 1.06 * box.height()), 80.0 * scale,
                                 72.0 * scale, k_word * scale, 54.0 * scale, k_delta * scale});
    line(d.canvas, words, box,
         {.colour = ink, .height = std::min(size, 1.06 * box.height()), .weight = Weight::bold});
    line(d.canvas, doubt, beside,
         {.colour = ink,
          .height = fitting(d.canvas, doubt, beside.width(), Weight::regular,
                            {(low ? k_lead : k_delta) * scale, k_lead * scale, k_body * scale})});
    small(against, foot);
}

/// Where things stand on the scale; what lies beyond it stands at its end.
struct Ruler {
    double left, right, centre_hz, reach;
    double place(double hz) const {
        const double share = (hz / centre_hz - 1.0) / reach;
        return 0.5 * (left + right) + 0.5 * std::clamp(share, -1.0, 1.0) * (right - left);
    }
    bool shows(double hz) const { return std::abs(hz / centre_hz - 1.0) <= reach; }
};

void draw_marks_of_scale(Drawing& d, const Ruler& ruler, double y) {
    const std::array<Point, 2> axis{Point{ruler.left, y}, Point{ruler.right, y}};
    d.canvas.polyline(axis, {d.p.faint_ink, 2.0 * d.scale, plot::Dash::solid});
    for (int i = -6; i <= 6; ++i) {
        const double x = 0.5 * (ruler.left + ruler.right) + i / 12.0 * (ruler.right - ruler.left);
        const double half = (i % 3 == 0 ? 10.0 : 5.0) * d.scale;
        d.canvas.box({x - 0.75 * d.scale, y - half, x + 0.75 * d.scale, y + half}, d.p.faint_ink,
                     0.0);
    }
}

/// Where the next gram is likely to take it: from the needle to there, with its interval.
void draw_next(Drawing& d, const Ruler& ruler, double y) {
    const plot::Colour pale = d.look.colour.over(d.p.panel, 0.45);
    const double from = ruler.place(*d.lane.now_hz), to = ruler.place(d.lane.next->value);
    d.canvas.box({ruler.place(d.lane.next->low), y - 7.0 * d.scale, ruler.place(d.lane.next->high),
                  y + 7.0 * d.scale},
                 d.look.colour.over(d.p.panel, 0.22), 0.0);
    const std::array<Point, 2> shaft{Point{from, y}, Point{to, y}};
    d.canvas.polyline(shaft, {pale, 4.0 * d.scale, plot::Dash::solid});
    const double back = (to < from ? 9.0 : -9.0) * d.scale;
    const std::array<Point, 3> head{Point{to + back, y - 9.0 * d.scale}, Point{to, y},
                                    Point{to + back, y + 9.0 * d.scale}};
    d.canvas.polyline(head, {pale, 4.0 * d.scale, plot::Dash::solid});
}

void draw_needle(Drawing& d, const Ruler& ruler, const Box& box, double y) {
    const double scale = d.scale;
    const auto upright = [&](double x, double half_width) {
        return Box{x - half_width, box.top, x + half_width, box.bottom};
    };
    if (!d.lane.now_hz) { // it waits where it was
        if (d.lane.last_hz) {
            d.canvas.frame(upright(ruler.place(*d.lane.last_hz), 4.0 * scale), d.look.colour, 0.0,
                           2.0 * scale);
        }
        return;
    }
    const double now = *d.lane.now_hz, doubt = *d.lane.doubt_hz;
    if (d.lane.last_hz) {
        const double x = ruler.place(*d.lane.last_hz);
        d.canvas.frame({x - 4.0 * scale, y - 22.0 * scale, x + 4.0 * scale, y + 22.0 * scale},
                       d.look.colour, 0.0, 2.0 * scale);
    }
    if (d.lane.next) {
        draw_next(d, ruler, y + std::min(30.0 * scale, 0.55 * (box.bottom - y)));
    }
    d.canvas.box(
        {ruler.place(now - doubt), y - 6.0 * scale, ruler.place(now + doubt), y + 6.0 * scale},
        d.look.colour.over(d.p.panel, 0.55), 0.0);
    d.canvas.box(upright(ruler.place(now), 3.0 * scale), d.look.colour, 0.0);
}

void draw_scale(Drawing& d, Box box) {
    if (!d.lane.centre_hz) {
        return;
    }
    const double scale = d.scale, margin = 14.0 * scale;
    Box foot = take_bottom(box, 22.0 * scale);
    const Ruler ruler{box.left + margin, box.right - margin, *d.lane.centre_hz, d.reach};
    const double y = box.top + 0.48 * box.height();
    draw_marks_of_scale(d, ruler, y);
    draw_needle(d, ruler, {box.left, box.top + 0.08 * box.height(), box.right, box.bottom}, y);
    const std::string end = figure(100.0 * d.reach, 0) + " %";
    const std::string_view what = d.lane.against == Against::goal        ? say("goal")
                                  : d.lane.against == Against::reference ? say("reference")
                                                                         : say("last session");
    std::string about = std::string(what) + " " + figure(*d.lane.centre_hz, 1);
    const auto wide = [&](std::string_view words) {
        return d.canvas.measure(words, k_small * scale, Weight::regular).width;
    };
    const plot::Lettering small{.colour = d.p.faint_ink, .height = k_small * scale};
    if (wide(about) + 2.0 * wide("\u2212" + end) + 20.0 * scale <= foot.width()) {
        line(d.canvas, "\u2212" + end, take_left(foot, 56.0 * scale), small);
        plot::Lettering at_right = small;
        at_right.across = Across::right;
        line(d.canvas, "+" + end, take_right(foot, 56.0 * scale), at_right);
    }
    if (wide(about) > foot.width()) {
        about = figure(*d.lane.centre_hz, 1); // what it is stands at the right
    }
    const double height =
        fitting(d.canvas, about, foot.width(), Weight::regular, {k_body * scale, k_small * scale});
    const double width = d.canvas.measure(about, height, Weight::regular).width + 8.0 * scale;
    const double middle = 0.5 * (ruler.left + ruler.right);
    d.canvas.box({middle - 0.5 * width, foot.top, middle + 0.5 * width, foot.bottom}, d.p.panel,
                 0.0); // the goal's line passes behind it
    line(d.canvas, about, foot, {.colour = d.p.ink, .height = height, .across = Across::centre});
}

void draw_lane(const ViewContext& context, const Lane& lane, Box box, double reach) {
    const double scale = context.look.scale;
    Drawing d{context,
              lane,
              context.canvas(),
              scale,
              plot::mode_look(lane.number, context.palette()),
              context.palette(),
              reach};
    const bool scaled = box.width() >= k_with_scale * scale;
    const double side = scaled ? k_name * scale : 0.42 * box.width();
    draw_name(d, take_left(box, side));
    const Box right = scaled ? take_right(box, k_difference * scale) : box;
    if (scaled) {
        take_right(box, k_beside * scale);
        draw_scale(d, box);
    }
    draw_difference(d, right);
}

} // namespace

void draw_lanes(const ViewContext& context, const Box& box) {
    std::vector<Lane> lanes = lanes_of(*context.now.plate);
    if (lanes.empty()) {
        return;
    }
    const double scale = context.look.scale;
    const double reach = reach_of(lanes);
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, p.panel, 0.0);
    Box rest{box.left + 12.0 * scale, box.top, box.right - 8.0 * scale, box.bottom};
    if (rest.width() >= k_with_scale * scale) { // one line for all: are the needles on it?
        const double middle =
            0.5 * (rest.left + rest.right + (k_name - k_difference - k_beside) * scale);
        canvas.box({middle - 1.5 * scale, box.top, middle + 1.5 * scale, box.bottom}, p.ink, 0.0);
    }
    // A strip below (the first walk) may leave room for fewer; those are counted.
    const auto fit = static_cast<std::size_t>(std::max(1.0, rest.height() / (k_least * scale)));
    if (fit < lanes.size()) {
        line(canvas, say("{} more", lanes.size() - fit), take_bottom(rest, 20.0 * scale),
             {.colour = p.faint_ink, .height = k_small * scale, .across = Across::right});
        lanes.resize(fit);
    }
    const double height = rest.height() / static_cast<double>(lanes.size());
    for (const Lane& lane : lanes) {
        Box row = take_top(rest, height);
        if (row.top > box.top) {
            canvas.box({box.left, row.top, box.right, row.top + scale}, p.line, 0.0);
        }
        const double margin = std::min(5.0 * scale, 0.04 * height);
        draw_lane(context, lane, {row.left, row.top + margin, row.right, row.bottom - margin},
                  reach);
    }
}

} // namespace platewright::screen
