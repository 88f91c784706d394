#pragma once
#include "trends/decision/outlook.hpp"

#include <optional>
#include <span>
#include <string>

namespace platewright::trends {

/// Where a target can be meant; Hz.
struct GoalRange {
    double low_hz = 0, high_hz = 0;
    std::optional<double> now_hz; ///< of the mode as it was tapped last, where that is what tells
};

/// By the plate itself once the mode was tapped on it: from 0.6 of where it is (a mode falls no
/// faster than the plate gets lighter, exponents 0.55 to 0.95, modes::mass_exponent: two fifths of
/// it would have to come off) to 1.25 times it (a bar, a post or varnish lifts a mode by less:
/// common practice, no source). Till then by what finished plates, or strung bodies, of its kind,
/// part and size have, four deviations to each side (modes::expected_by_rule). Nothing where
/// neither is known. Pure.
std::optional<GoalRange> goal_range(int number, const ledger::PlateHistory& history);

/// The first goal that lies outside of its range, asked about in a sentence: a digit may be
/// missing, or another mode be meant. Empty where none does.
std::string question_to(std::span<const Goal> goals, const ledger::PlateHistory& history);

} // namespace platewright::trends
