#include "screen/bench/verdict.hpp"

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
        return {Sign::closed, say("The recording is over"), say("L plays it in once more."), calm};
    }
    if (input.state == bench::InputState::off && context.now.plate &&
        context.closed_session == context.now.plate->session) {
        return {Sign::closed, say("Tapping closed"),
                say("N begins the next session, L listens again."), calm};
    }
    if (input.state != bench::InputState::running) {
        return {Sign::barred, say("Not listening"),
                input.trouble.empty() ? say("L begins to listen, F5 chooses the microphone.")
                                      : input.trouble,
                deaf};
    }
    if (input.silent) {
        return {
            Sign::barred, say("No sound"),
            say("Nothing at all arrives from {}: it is muted, turned down, or not the one (F5).",
                input.name),
            deaf};
    }
    if (context.now.plate && context.now.plate->weighing) {
        WeighingWords words = words_of(*context.now.plate->weighing);
        return {Sign::open, std::move(words.step), std::move(words.sentence), calm};
    }
    return {Sign::open, say("Listening"),
            taps_suffice(context) ? say("Enough taps: what to do stands below.")
                                  : say("Tap the plate."),
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

/// A ledger in which nothing stands yet: that a tap is not kept is as it is meant.
bool is_for_practice(const ViewContext& context) {
    return !context.now.plate && (!context.now.instruments || context.now.instruments->empty()) &&
           !taps::is_in_question(context.now.tap->record.verdict);
}

Verdict of_tap(const ViewContext& context, const bench::TapView& tap) {
    const plot::Palette& p = context.palette();
    if (tap.fate == bench::TapFate::ringing) {
        const std::string reading = first_reading(tap);
        return {Sign::waves,
                say("Ringing"),
                reading.empty() ? say("Let it ring out.") : reading,
                {p.panel, p.ink}};
    }
    const Field kept{p.kept, p.on_kept, true};
    const Field doubtful{p.not_kept, p.on_not_kept, true, true};
    if (tap.fate == bench::TapFate::not_kept && is_for_practice(context)) {
        return {Sign::hook, say("A good tap"), say("For practice: it is not kept."), kept};
    }
    if (tap.fate == bench::TapFate::not_kept) {
        return {Sign::exclaim, say("Not kept"), tap.why_not_kept, doubtful};
    }
    if (tap.fate == bench::TapFate::kept && context.now.plate && context.now.plate->weighing) {
        const WeighingWords words = words_of(*context.now.plate->weighing);
        const bool bears_it = tap.record.verdict == taps::Verdict::weighed;
        return {Sign::hook, say("Accepted"),
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
        return {Sign::hook, say("Accepted"), std::move(words), kept};
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

} // namespace platewright::screen
