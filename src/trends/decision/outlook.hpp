#pragma once
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/drift.hpp"

#include <algorithm>
#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// What a mode is to come to: the maker's own target, else where the reference has it.
struct Goal {
    bool operator==(const Goal&) const = default;
    int number = 0;
    double hz = 0;
    bool of_reference = false;
};

/// Of the mode of this number; or null.
inline const Goal* find_goal(std::span<const Goal> goals, int number) {
    const auto found = std::ranges::find(goals, number, &Goal::number);
    return found == goals.end() ? nullptr : &*found;
}

/// By these a free plate is steered where its maker says nothing else.
inline constexpr std::array k_steering{1, 2, 5};
constexpr bool is_steering(int number) {
    return std::ranges::find(k_steering, number) != k_steering.end();
}
/// The same of any part: of a closed body its air's mode and the two lowest of the corpus.
std::vector<int> steered_by(modes::Part part);

/// How a mode stands to what it is to come to.
struct TargetOutlook {
    int number = 0;
    double target_hz = 0;
    std::optional<double> now_hz;    ///< as last measured
    std::optional<Interval> grams;   ///< to take until it is reached
    std::optional<Interval> mm;      ///< of mean thickness; only where the model was asked too
    std::optional<PerGram> per_gram; ///< by the plate's own weighed sessions
    bool by_model = false;           ///< and by its model, at the place where wood comes off next
    std::optional<double> past_it;   ///< chance that a pass takes the mode beyond the target
    double pass_g = 0;               ///< that pass
    double safe_g = 0;   ///< little chance to go beyond; by sessions alone no more than they saw go
    double next_g = 0;   ///< by the model: the next pass at that place (way_to_goal)
    bool passed = false; ///< the mode is beyond the target now, so far as wood comes off
};

/// Beyond means by more than half a percent, which hanging a plate anew may do. pass_g: the pass
/// that is meant; nothing: the median of the last three that were weighed, else 1 g. Out: one a
/// goal.
std::vector<TargetOutlook> target_outlooks(const ledger::PlateHistory& history, const Drift& drift,
                                           std::span<const Goal> goals,
                                           std::optional<double> pass_g = std::nullopt);

/// The same outlook where a model tells what a gram does at the place where wood comes off next
/// (at_the_place): grams, chance, and what can safely be taken (at most its wood) are of that place
/// then.
void take_word_of_model(TargetOutlook& outlook, const FadingPerGram& there, const Level& now);

/// A warning where the pass may well overshoot (a chance of 20 % or more), or the mode is beyond
/// the target; empty otherwise.
std::string warning_of(const TargetOutlook& outlook);

} // namespace platewright::trends
