#pragma once
#include "trends/decision/per_gram.hpp"
#include "trends/drift/drift.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// Frequency against the mean thickness of the caliper readings, as Forecast is against mass.
struct ThicknessForecast {
    double hz_per_mm = 0; ///< slope near the present thickness
    double hz_per_mm_sd = 0;
    int sessions = 0; ///< that it rests on
    double mm = 0;    ///< present mean thickness
    double hz = 0;    ///< fitted at it
    RobustLine line;  ///< ln f (Hz) against ln thickness (mm)
};

/// Mean thickness by session, from its map; nothing where it has none, or the plate's shape is not
/// known. Cost: some 50 ms a map.
std::vector<std::optional<double>> mean_thickness_mm(const ledger::PlateHistory& history);

/// As forecast(); at least three mapped sessions of the track whose thickness differs by 1 %.
std::optional<ThicknessForecast>
forecast_by_thickness(const Track& track, const ledger::PlateHistory& history,
                      std::span<const std::optional<double>> mean_thickness_mm);
/// Millimetres of mean thickness to take until the target is measured, with its interval, as
/// grams_to().
std::optional<Interval> mm_to(const ThicknessForecast& forecast, double target_hz);

/// How a mode stands to what it is to come to.
struct TargetOutlook {
    int number = 0;
    double target_hz = 0;
    std::optional<double> now_hz;    ///< as last measured
    std::optional<Interval> grams;   ///< to take until it is reached
    std::optional<Interval> mm;      ///< of mean thickness
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
/// target.
std::vector<TargetOutlook> target_outlooks(const ledger::PlateHistory& history, const Drift& drift,
                                           std::span<const std::optional<Forecast>> forecasts,
                                           std::span<const ledger::TargetRecord> targets,
                                           std::optional<double> pass_g = std::nullopt);

/// The same outlook where a model tells what a gram does at the place where wood comes off next
/// (at_the_place): grams, chance, and what can safely be taken (at most its wood) are of that place
/// then.
void take_word_of_model(TargetOutlook& outlook, const FadingPerGram& there,
                        const modes::Mode& mode);

/// A warning where the pass may well overshoot (a chance of 20 % or more), or the mode is beyond
/// the target; empty otherwise.
std::string warning_of(const TargetOutlook& outlook);

} // namespace platewright::trends
