#include "screen/bench/verdict_band.hpp"

#include "screen/bench/verdict.hpp"
#include "screen/draw/parts.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Box;
using plot::Point;
using plot::Weight;

constexpr double k_word_when_enough = 40.0;
constexpr double k_room_for_ticks = 700.0; // a band narrower than that has its word alone
constexpr double k_slanted = 11.0;         // height of the slanted bars at a field's edges
constexpr double k_age = 5.0;              // of the line that says how old an answer is

void stroke(ImguiCanvas& canvas, std::initializer_list<Point> through, double width,
            plot::Colour ink) {
    const std::vector<Point> points(through);
    canvas.polyline(points, {ink, width, plot::Dash::solid});
}

/// A sign of its own for each state: none of them is a mode's mark.
void draw_sign(ImguiCanvas& canvas, Sign sign, const Box& box, plot::Colour ink, double scale) {
    const double size = std::min(box.width(), box.height());
    const Point c{0.5 * (box.left + box.right), 0.5 * (box.top + box.bottom)};
    const double r = 0.34 * size, pen = 0.11 * size;
    const auto at = [&](double x, double y) { return Point{c.x + x * r, c.y + y * r}; };
    switch (sign) {
    case Sign::hook:
        stroke(canvas, {at(-1.0, 0.05), at(-0.3, 0.75), at(1.0, -0.75)}, 1.3 * pen, ink);
        break;
    case Sign::crossed:
        canvas.mark(c, plot::Shape::cross, 2.3 * r, ink);
        break;
    case Sign::exclaim:
        canvas.box({c.x - 0.6 * pen, c.y - r, c.x + 0.6 * pen, c.y + 0.35 * r}, ink, 0.0);
        canvas.box({c.x - 0.6 * pen, c.y + 0.65 * r, c.x + 0.6 * pen, c.y + r}, ink, 0.0);
        break;
    case Sign::question:
        canvas.text(c, "?",
                    {.colour = ink,
                     .height = std::min(2.3 * r, k_word * scale), // a larger cut has no letters
                     .across = plot::Across::centre,
                     .weight = Weight::bold});
        break;
    case Sign::waves:
        for (const double share : {0.35, 0.85, 1.35}) {
            canvas.mark(c, plot::Shape::ring, 2.0 * share * r, ink);
        }
        break;
    case Sign::open:
        canvas.mark(c, plot::Shape::ring, 2.0 * r, ink);
        break;
    case Sign::closed:
        canvas.box({c.x - 0.8 * r, c.y - 0.8 * r, c.x + 0.8 * r, c.y + 0.8 * r}, ink, 0.0);
        break;
    case Sign::barred:
        canvas.mark(c, plot::Shape::ring, 2.0 * r, ink);
        stroke(canvas, {at(-1.0, 1.0), at(1.0, -1.0)}, pen, ink);
        break;
    }
}

/// The sign in a corner of its own: an answer's in the colours the other way round, so that the
/// hue fills an area too. When it is old: what is heard now, and the old one's corner as it was.
void draw_field(const ViewContext& context, const Box& box, const Verdict& verdict, Box& words) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    canvas.box(box, verdict.field.ground, 0.0);
    const Box corner = take_left(words, std::min(box.height(), 0.2 * box.width()));
    const Field& of_sign = verdict.before ? verdict.before->field : verdict.field;
    const bool turned = !verdict.before && verdict.field.solid;
    canvas.box(corner, turned ? of_sign.ink : of_sign.ground, 0.0);
    if (of_sign.barred) {
        const Box whole =
            verdict.before ? corner : Box{corner.right, box.top, box.right, box.bottom};
        const double high = k_slanted * scale;
        slanted_bars(canvas, {whole.left, whole.top, whole.right, whole.top + high}, of_sign.ink,
                     scale);
        slanted_bars(canvas, {whole.left, whole.bottom - high, whole.right, whole.bottom},
                     of_sign.ink, scale);
    }
    draw_sign(canvas, verdict.before ? verdict.before->sign : verdict.sign, corner,
              turned ? of_sign.ground : of_sign.ink, scale);
    if (verdict.freshness > 0.0) {
        const double bottom = box.bottom - (of_sign.barred ? k_slanted * scale : 0.0);
        const double whole = box.right - corner.right;
        canvas.box({corner.right, bottom - k_age * scale, corner.right + verdict.freshness * whole,
                    bottom},
                   verdict.field.ink, 0.0);
    }
}

/// As large as there is room for: the word on one line, what is beside it on two or three.
void draw_words(const ViewContext& context, const Verdict& verdict, Box words) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    if (verdict.field.barred) {
        words.top += k_slanted * scale;
        words.bottom -= k_slanted * scale;
    }
    if (verdict.freshness > 0.0) {
        words.bottom -= k_age * scale;
    }
    const bool beside = words.width() >= 560.0 * scale;
    const double share = verdict.beside.empty() || !beside ? 1.0 : 0.55;
    // Once taps suffice the decision is what to act on, and stands larger than the last answer.
    const bool acted_on =
        verdict.field.barred || (context.now.plate && context.now.plate->weighing.has_value());
    const double most = !acted_on && taps_suffice(context) ? k_word_when_enough : k_word;
    const double word =
        fitting(canvas, verdict.word, share * words.width(), Weight::bold,
                {std::min(most * scale, 0.68 * words.height()), std::min(most, 48.0) * scale,
                 k_delta * scale, k_lead * scale, k_body * scale});
    const auto fits = [&](double size, const Box& box) {
        return paragraph_height(canvas, verdict.beside, box.width(), size) <= box.height();
    };
    if (!beside) {
        const double small =
            fits(k_body * scale, {words.left, words.top + 1.2 * word, words.right, words.bottom})
                ? k_body * scale
                : k_small * scale;
        const double below = verdict.beside.empty()
                                 ? 0.0
                                 : paragraph_height(canvas, verdict.beside, words.width(), small);
        // What is below it has room too, above the bars of a barred field.
        const double lead =
            std::min(word, std::max(k_body * scale, (words.height() - below) / 1.1));
        words.top += std::max(0.0, 0.5 * (words.height() - 1.1 * lead - below));
        line(canvas, verdict.word, take_top(words, 1.1 * lead),
             {.colour = verdict.field.ink, .height = lead, .weight = Weight::bold});
        paragraph(canvas, verdict.beside, words, small, verdict.field.ink);
        return;
    }
    const double width = canvas.measure(verdict.word, word, Weight::bold).width;
    line(canvas, verdict.word, take_left(words, width + 24.0 * scale),
         {.colour = verdict.field.ink, .height = word, .weight = Weight::bold});
    for (const double size : {k_delta * scale, 28.0 * scale, k_lead * scale, k_body * scale}) {
        if (fits(size, words) || size == k_body * scale) {
            words.top +=
                0.5 * std::max(0.0, words.height() - paragraph_height(canvas, verdict.beside,
                                                                      words.width(), size));
            paragraph(canvas, verdict.beside, words, size, verdict.field.ink);
            return;
        }
    }
}

constexpr double k_tick = 14.0, k_tick_gap = 6.0, k_group_gap = 14.0;

double ticks_width(const std::vector<PlannedTaps>& all) {
    double width = 0.0;
    for (const PlannedTaps& group : all) {
        width += std::max(group.planned, group.kept) * (k_tick + k_tick_gap) + k_group_gap;
    }
    return width;
}

/// One tick a planned tap, filled as taps are kept; below, what was refused.
void draw_ticks(const ViewContext& context, Box box, const std::vector<PlannedTaps>& all,
                plot::Colour ink) {
    const double scale = context.look.scale;
    ImguiCanvas canvas = context.canvas();
    const std::string refused = refused_words(context);
    if (!refused.empty()) {
        line(canvas, refused, take_bottom(box, 24.0 * scale),
             {.colour = ink,
              .height = fitting(canvas, refused, box.width(), Weight::regular,
                                {k_body * scale, k_small * scale})});
    }
    double x = box.left;
    for (const PlannedTaps& group : all) {
        const double left = x;
        for (int i = 0; i < std::max(group.planned, group.kept); ++i) {
            const Box tick{x, box.top + 8.0 * scale, x + k_tick * scale, box.bottom - 9.0 * scale};
            if (i < group.kept) {
                canvas.box(tick, ink, 0.0);
            } else {
                canvas.frame(tick, ink, 0.0, 2.0 * scale);
            }
            x += (k_tick + k_tick_gap) * scale;
        }
        if (group.now) {
            canvas.box({left, box.bottom - 5.0 * scale, x - k_tick_gap * scale, box.bottom}, ink,
                       0.0);
        }
        x += k_group_gap * scale;
    }
}

} // namespace

void draw_verdict_alone(const ViewContext& context, const Box& box) {
    const Verdict verdict = verdict_of(context);
    Box words = box;
    draw_field(context, box, verdict, words);
    take_left(words, 10.0 * context.look.scale);
    take_right(words, 6.0 * context.look.scale);
    draw_words(context, verdict, words);
}

void draw_verdict(const ViewContext& context, const Box& box) {
    const double scale = context.look.scale;
    const std::vector<PlannedTaps> all = planned_taps(context);
    const double ticks = std::max(ticks_width(all), 190.0) * scale;
    if (box.width() < k_room_for_ticks * scale || ticks > 0.4 * box.width()) {
        draw_verdict_alone(context, box);
        return;
    }
    const Verdict verdict = verdict_of(context);
    Box words = box;
    draw_field(context, box, verdict, words);
    take_left(words, 10.0 * scale);
    const Box right = take_right(words, ticks);
    // Below the ticks runs the line that says how old the answer is.
    const double edge = verdict.field.barred ? k_slanted * scale : 0.0;
    const double below = edge + (verdict.field.barred ? 7.0 : 10.0) * scale;
    draw_ticks(context,
               {right.left, right.top + edge + 8.0 * scale, right.right, right.bottom - below}, all,
               verdict.field.ink);
    take_right(words, 16.0 * scale);
    draw_words(context, verdict, words);
}

} // namespace platewright::screen
