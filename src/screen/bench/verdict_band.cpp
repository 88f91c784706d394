#include "screen/bench/verdict_band.hpp"

#include "bench/session/guide.hpp"
#include "modes/ring/stranger.hpp"
#include "screen/bench/weighing_words.hpp"
#include "screen/draw/parts.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

namespace platewright::screen {
namespace {

constexpr double k_fresh_s = 8.0; // an answer counts as of the last strike that long

std::string_view remedy(taps::Verdict verdict) {
    switch (verdict) {
    case taps::Verdict::accepted:
    case taps::Verdict::weighed:
    case taps::Verdict::vouched:
        return "";
    case taps::Verdict::too_weak:
        return say("Strike harder, or bring the microphone nearer.");
    case taps::Verdict::clipped:
        return say("Strike more softly, or turn the input down.");
    case taps::Verdict::struck_twice:
        return say("Let the hammer spring back, and let it ring out.");
    case taps::Verdict::noise_before:
        return say("Wait for quiet before the strike.");
    case taps::Verdict::too_short:
        return say("Let it ring: touch the plate on a nodal line only.");
    case taps::Verdict::no_ring:
        return say("That did not ring like a plate.");
    case taps::Verdict::gap:
        return say("Sound was lost on its way here; strike once more.");
    case taps::Verdict::stranger:
        return say("It rings like none of this session's taps. Y counts it all the same.");
    case taps::Verdict::doubtful:
        return say("Strike harder, or hold it freer. Y counts it, if it was the plate.");
    }
    return "";
}

/// What the hammer told of a kept tap, where it did not tell its force well; else nothing.
std::string_view force_trouble(const bench::TapView& tap) {
    switch (tap.force.value_or(modes::ForceVerdict::good)) {
    case modes::ForceVerdict::good:
        break;
    case modes::ForceVerdict::none:
        return say("no force came with it: look at the hammer's channel (F5)");
    case modes::ForceVerdict::clipped:
        return say("its force was clipped: strike softer");
    case modes::ForceVerdict::struck_twice:
        return say("the hammer pushed twice: its force does not count");
    }
    return {};
}

std::string with_capital(std::string_view words) {
    std::string out(words);
    if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') {
        out[0] = static_cast<char>(out[0] - 'a' + 'A');
    }
    return out;
}

/// The decision asks for no more taps: the answer to the last one isn't what to act on.
bool taps_suffice(const ViewContext& context) {
    return context.now.plate && context.now.plate->decision.advice != trends::Advice::tap;
}

Verdict waiting(const ViewContext& context) {
    const plot::Palette& p = context.palette();
    const bench::InputStatus& input = context.now.input;
    const Field calm{p.panel, p.ink}, deaf{p.not_kept, p.on_not_kept, true, true};
    if (input.state == bench::InputState::ended) {
        return {Sign::closed, std::string(say("The recording is over")),
                std::string(say("L plays it in once more.")), calm};
    }
    if (input.state == bench::InputState::off && context.now.plate &&
        context.closed_session == context.now.plate->session) {
        return {Sign::closed, std::string(say("Tapping closed")),
                std::string(say("N begins the next session, L listens again.")), calm};
    }
    if (input.state != bench::InputState::running) {
        return {Sign::barred, std::string(say("Not listening")),
                input.trouble.empty()
                    ? std::string(say("L begins to listen, F5 chooses the microphone."))
                    : input.trouble,
                deaf};
    }
    if (input.silent) {
        return {
            Sign::barred, std::string(say("No sound")),
            say("Nothing at all arrives from {}: it is muted, turned down, or not the one (F5).",
                input.name),
            deaf};
    }
    if (context.now.plate && context.now.plate->weighing) {
        WeighingWords words = words_of(*context.now.plate->weighing);
        return {Sign::open, std::move(words.step), std::move(words.sentence), calm};
    }
    return {Sign::open, std::string(say("Listening")),
            std::string(taps_suffice(context) ? say("Enough taps: what to do stands below.")
                                              : say("Tap the plate.")),
            calm};
}

/// What the tap now ringing reads already: the named modes, else its strongest partials.
std::string first_reading(const bench::TapView& tap) {
    std::string words;
    const auto add = [&words](const std::string& one) {
        words += (words.empty() ? "" : ",  ") + one;
    };
    for (const bench::NamedPartial& one : tap.named) {
        add(std::to_string(one.number) + ": " + figure(one.frequency_hz, 1));
    }
    if (words.empty()) {
        for (const modes::Partial& partial : tap.record.partials) {
            if (partial.level_db > -12.0) {
                add(figure(partial.frequency_hz, 1));
            }
        }
    }
    return words.empty() ? words : words + " Hz";
}

Verdict of_tap(const ViewContext& context, const bench::TapView& tap) {
    const plot::Palette& p = context.palette();
    if (tap.fate == bench::TapFate::ringing) {
        const std::string reading = first_reading(tap);
        return {Sign::waves,
                std::string(say("Ringing")),
                reading.empty() ? std::string(say("Let it ring out.")) : reading,
                {p.panel, p.ink}};
    }
    const Field kept{p.kept, p.on_kept, true};
    const Field doubtful{p.not_kept, p.on_not_kept, true, true};
    if (tap.fate == bench::TapFate::not_kept) {
        return {Sign::exclaim, std::string(say("Not kept")), tap.why_not_kept, doubtful};
    }
    if (tap.fate == bench::TapFate::kept && context.now.plate && context.now.plate->weighing) {
        const WeighingWords words = words_of(*context.now.plate->weighing);
        const bool bears_it = tap.record.verdict == taps::Verdict::weighed;
        return {Sign::hook, std::string(say("Accepted")),
                (bears_it ? std::string(say("with the mass on")) + ". " : std::string()) +
                    words.step + ". " + words.sentence,
                kept};
    }
    if (tap.fate == bench::TapFate::kept) {
        const std::string_view trouble = force_trouble(tap);
        const std::string_view also = !trouble.empty()    ? trouble
                                      : tap.began_session ? say("today's session was begun for it")
                                      : tap.force         ? say("with its force")
                                                          : std::string_view();
        std::string words = say_count(context.good_taps(), "{} good tap", "{} good taps") +
                            (also.empty() ? "" : ", ") + std::string(also);
        if (taps_suffice(context)) {
            words = say("{}: enough. What to do stands below.", words);
        }
        return {Sign::hook, std::string(say("Accepted")), std::move(words), kept};
    }
    const std::string word = with_capital(taps::to_text(tap.record.verdict));
    // Without a session nothing was kept that could be counted.
    const bool not_kept = tap.record.id == 0 && taps::is_in_question(tap.record.verdict);
    const std::string what_to_do(
        not_kept ? say("No session of today is open, so it was not kept. N begins one; then tap "
                       "again.")
        : taps_suffice(context) && !taps::is_in_question(tap.record.verdict)
            ? say("Enough taps without it: what to do stands below.")
        : tap.record.verdict == taps::Verdict::stranger && modes::outrings_wood(tap.record.partials)
            ? say("It rings longer than wood can. Y counts it all the same.")
            : remedy(tap.record.verdict));
    if (taps::is_in_question(tap.record.verdict)) {
        return {Sign::question, word, what_to_do, doubtful};
    }
    return {Sign::crossed, word, what_to_do, {p.refused, p.on_refused, true}};
}

} // namespace

Verdict verdict_of(const ViewContext& context) {
    if (!context.now.tap || context.now.input.state != bench::InputState::running) {
        return waiting(context);
    }
    Verdict verdict = of_tap(context, *context.now.tap);
    if (context.now.tap->fate == bench::TapFate::ringing) {
        return verdict;
    }
    const double age_s =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - context.now.tap->answered)
            .count();
    if (age_s < k_fresh_s) {
        context.wake_in_s = std::min(context.wake_in_s, 1.0);
        verdict.freshness = 1.0 - std::floor(age_s) / k_fresh_s;
        return verdict;
    }
    Verdict now = waiting(context);
    now.beside = say("Last: {}", verdict.word);
    now.before = std::make_shared<const Verdict>(std::move(verdict));
    return now;
}

std::string refused_words(const ViewContext& context) {
    const ledger::SessionHistory* session = context.session();
    int refused = 0;
    std::string_view last;
    for (std::size_t i = 0; session != nullptr && i < session->taps.size(); ++i) {
        const taps::Verdict verdict = session->taps[i].verdict;
        if (!taps::rings(verdict)) {
            ++refused;
            last = taps::to_text(verdict);
        }
    }
    return refused == 0 ? std::string()
                        : say_count(refused, "{} refused: {}", "{} refused, the last: {}", last);
}

std::vector<PlannedTaps> planned_taps(const ViewContext& context) {
    const ledger::SessionHistory* session = context.session();
    std::vector<PlannedTaps> spots{{5}, {2}, {1}, {0}};
    int all = 0;
    for (std::size_t i = 0; session != nullptr && i < session->taps.size(); ++i) {
        if (taps::counts(session->taps[i].verdict)) {
            const int mode = bench::mode_sought(session->taps[i].spot);
            ++std::ranges::find(spots, mode, &PlannedTaps::mode)->kept;
            ++all;
        }
    }
    const int here = bench::mode_sought(context.now.striking_at);
    if (context.preferences.taps_a_spot == 0 || (here == 0 && spots.back().kept == all)) {
        const trends::Decision& decision = context.now.plate->decision;
        const int wanted = decision.advice == trends::Advice::tap ? decision.taps_wanted : 0;
        return {{0, all, all + wanted, false}};
    }
    for (PlannedTaps& spot : spots) {
        spot.planned =
            spot.mode == 0 ? spot.kept : std::max(spot.kept, context.preferences.taps_a_spot);
        spot.now = spot.mode != 0 && spot.mode == here;
    }
    if (spots.back().kept == 0) {
        spots.pop_back();
    }
    return spots;
}

namespace {
using plot::Box;
using plot::Point;
using plot::Weight;

constexpr double k_word_when_enough = 40.0;
constexpr double k_room_for_ticks = 700.0; // a band narrower than that has its word alone
constexpr double k_slanted = 11.0;         // height of the slanted bars at a field's edges

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
        canvas.box(
            {corner.right, bottom - 5.0 * scale, corner.right + verdict.freshness * whole, bottom},
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
