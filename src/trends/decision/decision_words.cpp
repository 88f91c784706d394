#include "trends/decision/decision.hpp"
#include "wording/say.hpp"

#include <cctype>
#include <fmt/format.h>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_worth_a_warning = 0.2; // a chance of going beyond

/// A mode's name begins a sentence here.
std::string capital(std::string sentence) {
    if (!sentence.empty())
        sentence.front() =
            static_cast<char>(std::toupper(static_cast<unsigned char>(sentence.front())));
    return sentence;
}

std::string to_go(const Decision& d) {
    const std::string mode = capital(modes::mode_text(d.number));
    const std::string left = figure(d.now_hz - d.goal_hz, 1), doubt = figure(d.doubt_hz, 1);
    if (d.sessions > 1)
        return d.of_reference
                   ? say("{} is {} \u00b1 {} Hz above the reference, by its last {} sessions.",
                         mode, left, doubt, d.sessions)
                   : say("{} is {} \u00b1 {} Hz above its goal, by its last {} sessions.", mode,
                         left, doubt, d.sessions);
    return d.of_reference ? say("{} is {} \u00b1 {} Hz above the reference.", mode, left, doubt)
                          : say("{} is {} \u00b1 {} Hz above its goal.", mode, left, doubt);
}

/// What it is to come to, as bench and drift call it.
std::string goal_text(const Decision& d) {
    return fmt::format("{} {} Hz", d.of_reference ? say("reference") : say("goal"),
                       figure(d.goal_hz, 1));
}

std::string by_model(const Decision& d) {
    const std::string most =
        std::isfinite(d.grams->high) ? figure(d.grams->high, 1) : say("far more");
    return d.by_history ? say("By its model and its own sessions {} g are left there ({} to {}); "
                              "it can't be put back.",
                              figure(d.grams->value, 1), figure(d.grams->low, 1), most)
                        : say("By its model {} g are left there ({} to {}); it can't be put back.",
                              figure(d.grams->value, 1), figure(d.grams->low, 1), most);
}

std::string stop_sentence(const Decision& d) {
    const std::string mode = modes::short_mode_text(d.number);
    if (d.passed) {
        const std::string below = figure(d.goal_hz - d.now_hz, 1);
        return d.of_reference
                   ? say("Stop: {} is {} Hz below the reference. Thinning can't raise it.", mode,
                         below)
                   : say("Stop: {} is {} Hz below its goal. Thinning can't raise it.", mode, below);
    }
    return d.of_reference ? say("Stop: {} is at the reference.", mode)
                          : say("Stop: {} is at its goal.", mode);
}

} // namespace

std::string sentence_of(const Decision& d) {
    switch (d.advice) {
    case Advice::tap:
        if (d.other_plate)
            return say("See which plate hangs here, then tap it.");
        if (d.by_hand)
            return say("More taps won't tell. Name it by hand: M.");
        return d.spot == taps::Spot::unknown
                   ? wording::say_count(d.taps_wanted, "{} more good tap.", "{} more good taps.")
                   : wording::say_count(d.taps_wanted, "{} more good tap here: {}.",
                                        "{} more good taps here: {}.", taps::to_text(d.spot));
    case Advice::set_goal:
        return say("Enough taps. Set a goal.");
    case Advice::weigh:
        return say("Enough taps. Weigh it.");
    case Advice::stop:
        return stop_sentence(d);
    case Advice::measure:
        return say("Measure first. {}", d.first.what);
    case Advice::other_goal:
        return d.of_reference
                   ? say("Thinning can't bring {} to the reference: {} Hz is the lowest.",
                         modes::short_mode_text(d.number), figure(d.lowest_hz, 0))
                   : say("Thinning can't bring {} to its goal: {} Hz is the lowest.",
                         modes::short_mode_text(d.number), figure(d.lowest_hz, 0));
    case Advice::take:
        return d.where.empty()
                   ? say("Take {} g at most, then tap again.", figure(d.take_g, 1))
                   : say("Take {} g at most: {}. Then tap again.", figure(d.take_g, 1), d.where);
    }
    return {};
}

namespace {

std::string reason_to_stop(const Decision& d) {
    const std::string reason =
        d.passed ? say("{} Hz \u00b1 {} Hz (95 %, hanging anew included), {}. Wood "
                       "taken off can't be put back.",
                       figure(d.now_hz, 1), figure(d.doubt_hz, 1), goal_text(d))
                 : say("{} Hz \u00b1 {} Hz (95 %, hanging anew included), {}: within "
                       "its doubt. Wood taken off can't be put back.",
                       figure(d.now_hz, 1), figure(d.doubt_hz, 1), goal_text(d));
    return d.sessions > 1 ? reason + " " + say("So say its last {} sessions.", d.sessions) : reason;
}

} // namespace

std::string reason_of(const Decision& d) {
    switch (d.advice) {
    case Advice::tap:
        if (d.other_plate)
            return say("The last tap rang like another plate.");
        if (d.number == 0)
            return {};
        return d.now_hz > 0 ? say("{} is not sure enough yet to decide by.",
                                  capital(modes::mode_text(d.number)))
                            : say("{} is not found yet.", capital(modes::mode_text(d.number)));
    case Advice::set_goal:
        return say(
            "A reference is chosen under Compare (F3), a target typed under Plate, Next pass "
            "(F8).");
    case Advice::weigh:
        return say("Grams tell how much may go: enter its mass.");
    case Advice::stop:
        return reason_to_stop(d);
    case Advice::other_goal:
        return say(
            "By its model thinning leads to {} \u00b1 {} Hz (95 %), no place under {} mm, no "
            "hollow over {} mm; {}. Set another goal, or plan with other limits, "
            "under Plate (F8): wood can't be put back.",
            figure(d.lowest_hz, 1), figure(d.lowest_doubt_hz, 1), figure(d.least_mm, 1),
            figure(d.deepest_mm, 1), goal_text(d));
    case Advice::measure:
        return to_go(d) + " " +
               say("So wide is the doubt that {} g is all that may go now; measuring leaves {} % "
                   "of it in about {} min.",
                   figure(d.take_g, 1), figure(100.0 * d.first.remains, 0),
                   figure(d.first.minutes, 0));
    case Advice::take:
        if (d.past_it && *d.past_it >= k_worth_a_warning)
            return to_go(d) + " " +
                   say("A pass as large as usual would go beyond it with a chance of {} %: it "
                       "can't be put back.",
                       figure(chance_as_said_pct(*d.past_it), 0));
        if (d.by_model && d.grams)
            return to_go(d) + " " + by_model(d);
        if (d.by_history && d.grams)
            return to_go(d) + " " +
                   say("By this plate's own sessions {} g are left ({} to {}); it can't be put "
                       "back.",
                       figure(d.grams->value, 1), figure(d.grams->low, 1),
                       figure(d.grams->high, 1));
        return to_go(d) + " " +
               std::string(say(
                   "There is no forecast of this plate yet: so little stays above it even where a "
                   "gram does three times as much as spread evenly. It can't be put back."));
    }
    return {};
}

std::string doubt_beside(const modes::Naming& naming, const Decision& decision) {
    const bool names_spot = decision.advice == Advice::tap && decision.spot != taps::Spot::unknown;
    if (naming.doubt.sentence.empty() || !naming.doubt.ask_spot || names_spot)
        return naming.doubt.sentence;
    return naming.doubt.sentence + ' ' +
           say("A tap at this spot would help: {}.", taps::to_text(*naming.doubt.ask_spot));
}

} // namespace platewright::trends
