#pragma once
#include "ledger/record.hpp"
#include "trends/decision/per_gram.hpp"
#include "trends/drift/drift.hpp"

#include <optional>
#include <vector>

namespace platewright::trends {

inline constexpr double k_least_pass_g = 0.1; ///< below this no scraper stops, nor scales tell

/// The grams of a pass as they are named: in tenths, downwards, and not below the least.
double pass_as_named(double grams);

/// A named mode as it was tapped last, and what the plate's own weighed sessions say that a gram
/// does to it; nothing where they are too few (forecast()).
struct ModeNow {
    int number = 0;
    modes::Mode mode;
    std::optional<PerGram> own;
};

/// Of a session of the history, by it and those before. Threads: pure.
std::vector<ModeNow> modes_now(const ledger::PlateHistory& history, std::size_t session);

/// What a gram does where the model would take it: by the model's word on the place, joined with
/// the plate's own sessions (joined()); as it will be scraped.
PerGram at_the_place(const PerGram& by_model, const std::optional<PerGram>& own);

/// The way of one mode to its goal by wood off that place.
struct WayToGoal {
    std::optional<Interval> grams; ///< until the goal is measured; nothing: they don't lead there
    double safe_g = 0;             ///< with little chance to go beyond it
    double pass_g = 0;             ///< of the next pass, in tenths of a gram
    Margin beyond;                 ///< beyond the goal by more than hanging a plate anew may do
};

/// The one rule for the next pass where the place is known; plan, bench, paper and terminal name
/// these grams. Four fifths of what is expected to be left, at most what passes the goal with a
/// chance of 2.5 %, at most all of the wood that the model would take (docs/decisions/025).
WayToGoal way_to_goal(const modes::Mode& now, double goal_hz, const PerGram& there, double wood_g);

} // namespace platewright::trends
