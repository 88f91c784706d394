#include "trends/decision/decision.hpp"
#include "wording/say.hpp"

#include <cctype>
#include <cmath>

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
    return say("{} is {} \u00b1 {} Hz above its goal.", capital(modes::mode_text(d.number)),
               figure(d.now_hz - d.goal_hz, 1), figure(d.doubt_hz, 1));
}

std::string by_model(const Decision& d) {
    const std::string most =
        std::isfinite(d.grams->high) ? figure(d.grams->high, 1) : std::string(say("far more"));
    return d.by_history
               ? say("By its model and its own sessions {} g are left there ({} to {}); it can't "
                     "be put back.",
                     figure(d.grams->value, 1), figure(d.grams->low, 1), most)
               : say("By its model {} g are left there ({} to {}); it can't be put back.",
                     figure(d.grams->value, 1), figure(d.grams->low, 1), most);
}

} // namespace

std::string sentence_of(const Decision& d) {
    switch (d.advice) {
    case Advice::tap:
        return d.spot == taps::Spot::unknown
                   ? wording::say_count(d.taps_wanted, "{} more good tap.", "{} more good taps.")
                   : wording::say_count(d.taps_wanted, "{} more good tap here: {}.",
                                        "{} more good taps here: {}.", taps::to_text(d.spot));
    case Advice::set_goal:
        return std::string(say("Enough taps. No goal is set."));
    case Advice::weigh:
        return std::string(say("Enough taps. Weigh it."));
    case Advice::stop:
        return d.passed
                   ? say("Stop: {} is {} Hz below its goal.", modes::mode_text(d.number),
                         figure(d.goal_hz - d.now_hz, 1))
                   : say("Stop: {} is at its goal, within its doubt.", modes::mode_text(d.number));
    case Advice::measure:
        return say("Measure first. {}", d.first.what);
    case Advice::take:
        return d.where.empty()
                   ? say("Take {} g at most, then tap again.", figure(d.take_g, 1))
                   : say("Take {} g at most: {}. Then tap again.", figure(d.take_g, 1), d.where);
    }
    return {};
}

std::string reason_of(const Decision& d) {
    switch (d.advice) {
    case Advice::tap:
        if (d.other_plate)
            return std::string(
                say("The last tap rang like another plate: make sure which one hangs here."));
        if (d.number == 0)
            return {};
        return d.now_hz > 0 ? say("{} is not sure enough yet to decide by.",
                                  capital(modes::mode_text(d.number)))
                            : say("{} is not found yet.", capital(modes::mode_text(d.number)));
    case Advice::set_goal:
        return std::string(
            say("A reference is chosen under Compare (F3), a target under Plate (F8)."));
    case Advice::weigh:
        return std::string(say("Grams tell how much may go; E enters the mass."));
    case Advice::stop:
        return say("{} Hz \u00b1 {} Hz (95 %, hanging anew included), goal {} Hz. Wood taken off "
                   "can't be put back.",
                   figure(d.now_hz, 1), figure(d.doubt_hz, 1), figure(d.goal_hz, 1));
    case Advice::measure:
        return to_go(d) + " " +
               say("So wide is the doubt that {} g is all that may go now; measuring leaves {} % "
                   "of it in about {} min.",
                   figure(d.take_g, 1), figure(100.0 * d.first.remains, 0),
                   figure(d.first.minutes, 0));
    case Advice::take:
        if (d.past_it && *d.past_it >= k_worth_a_warning)
            return to_go(d) + " " +
                   say("A pass of {} g, as the last ones, would go beyond it with a chance of {} "
                       "%: it can't be put back.",
                       figure(d.usual_pass_g, 1), figure(100.0 * *d.past_it, 0));
        if (d.by_model && d.grams)
            return to_go(d) + " " + by_model(d);
        if (d.by_history && d.grams)
            return to_go(d) + " " +
                   say("By this plate's own sessions {} g are left ({} to {}); it can't be put "
                       "back.",
                       figure(d.grams->value, 1), figure(d.grams->low, 1),
                       figure(d.grams->high, 1));
        return to_go(d) + " " +
               std::string(say("There is no forecast of this plate yet: so little stays above it "
                               "even where a gram does "
                               "three times as much as spread evenly. It can't be put back."));
    }
    return {};
}

} // namespace platewright::trends
