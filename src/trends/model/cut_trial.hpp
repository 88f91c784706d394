#pragma once
#include "base/result.hpp"
#include "plate/plan/rehearsal.hpp"
#include "trends/decision/decision.hpp"
#include "trends/model/plate_study.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// A cut tried on the model of a plate before it is made on the wood, and what would make its
/// forecast surer.
struct CutTrial {
    plate::Cut cut;
    double wood_g = 0.0;
    double thinnest_mm = 0.0;                  ///< that would be left
    std::vector<ModeNow> modes;                ///< before it
    std::vector<plate::ShiftForecast> shifts;  ///< by all that was measured
    std::vector<plate::ShiftForecast> by_taps; ///< without weighings; empty where there are none
    std::vector<plate::NextMeasurement> next;  ///< best first; empty: enough, scrape
    std::vector<std::string> next_words;       ///< a sentence each, as `next`
    std::vector<std::string> cautions;
    ledger::PlanRecord record; ///< to be kept, so that it is held against what comes; `made` is the
                               ///< caller's
};

/// Fault: a place off the plate, a depth or size that no scraper makes or that leaves nothing, a
/// study that says no_plan or whose wood is not plausible. Cost: under 1 s. Threads: pure.
base::Result<CutTrial> try_cut(const PlateStudy& study, const plate::Cut& cut);

/// Whether the cut would take a mode beyond what it is to come to.
struct BeyondGoal {
    Goal goal;
    double chance = 0;
};
/// One for each goal whose mode is foreseen and was tapped; with what is scraped otherwise than
/// meant. Pure.
std::vector<BeyondGoal> beyond_goals(const CutTrial& trial, std::span<const Goal> goals);
std::string words_of(const BeyondGoal& beyond);

} // namespace platewright::trends
