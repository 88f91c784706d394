#include "trends/decision/goal_range.hpp"

#include "modes/name/rules.hpp"
#include "wording/say.hpp"

#include <cmath>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_lowest_share = 0.6, k_highest_share = 1.25; // of where the mode is
constexpr double k_deviations = 4.0;                           // of plates of the kind

/// As it is to be when the work is done.
modes::Subject done(const ledger::PlateHistory& history) {
    return {.kind = history.instrument.kind,
            .part = history.plate.part,
            .stage = history.plate.part == modes::Part::body ? modes::Stage::set_up
                                                             : modes::Stage::finished,
            .body_length_mm = history.instrument.body_length_mm};
}

} // namespace

std::optional<GoalRange> goal_range(int number, const ledger::PlateHistory& history) {
    for (auto session = history.sessions.rbegin(); session != history.sessions.rend(); ++session)
        if (const ledger::ModeRecord* found = find_mode(session->modes, number)) {
            const double now_hz = found->mode.frequency_hz;
            return GoalRange{k_lowest_share * now_hz, k_highest_share * now_hz, now_hz};
        }
    const auto expected = modes::expected_by_rule(number, done(history));
    if (!expected)
        return std::nullopt;
    return GoalRange{std::exp(expected->centre - k_deviations * expected->sd),
                     std::exp(expected->centre + k_deviations * expected->sd),
                     {}};
}

std::string question_to(std::span<const Goal> goals, const ledger::PlateHistory& history) {
    for (const Goal& goal : goals) {
        const auto range = goal_range(goal.number, history);
        if (!range || (goal.hz >= range->low_hz && goal.hz <= range->high_hz))
            continue;
        const std::string mode = modes::short_mode_text(goal.number), hz = figure(goal.hz, 1),
                          low = figure(range->low_hz, 0), high = figure(range->high_hz, 0);
        return range->now_hz
                   ? say("{} Hz for {}? It is at {} Hz; work leads to somewhere from {} to {} Hz.",
                         hz, mode, figure(*range->now_hz, 1), low, high)
                   : say("{} Hz for {}? Instruments of this kind have it between {} and {} Hz.", hz,
                         mode, low, high);
    }
    return {};
}

} // namespace platewright::trends
