#pragma once
#include "trends/model/plan_zones.hpp"
#include "trends/model/plate_study.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// Where a maker wants a mode to be.
struct PlanWish {
    int number = 0;
    double want_hz = 0.0;
};

/// What is asked of a plan; the same from the window and from the command line.
struct PlanRequest {
    std::vector<PlanWish> wishes;             ///< count before the reference
    std::vector<plate::TappedMode> reference; ///< of the session to be like; empty: none
    std::string reference_label;
    std::optional<Air> reference_air; ///< that it was tapped in
    std::optional<Air> wish_air;      ///< that the wishes are meant in; nothing: the plate's of now
    plate::Likeness alike = plate::Likeness::equal_frequency;
    plate::PlanLimits limits; ///< without a share of its own the pass is way_to_goal's
};

/// Takes over a session of another plate as the reference; a session that is not there, or bears no
/// name, leaves it empty.
void refer_to(PlanRequest& request, const ledger::PlateHistory& other, ledger::Id session);

/// The targets kept with a plate (`drift --remember`, the window's drift), as wishes.
std::vector<PlanWish> kept_wishes(const ledger::PlateHistory& history);

/// The limits that usually hold for a kind of instrument (common practice, no source).
plate::PlanLimits usual_limits(modes::InstrumentKind kind);

/// A plan with all that is said of it.
struct PlanAnswer {
    std::vector<plate::PlanTarget> targets; ///< with those held softly
    plate::PlanLimits limits;
    plate::Plan plan;
    std::vector<PlanZone> zones;         ///< of the next pass
    std::vector<std::string> next_words; ///< of Plan::next, a sentence each; empty: enough, scrape
    ledger::PlanRecord record;           ///< to be kept where worth_keeping; `made` is the caller's
    bool worth_keeping = false;
};

/// What a gram of a plan does to a mode, with its own sessions' word; nothing where nothing is
/// planned, or the plan does not tell how sure it is.
std::optional<PerGram> there_of(const plate::PlanOutcome& outcome, double wood_g,
                                std::span<const ModeNow> modes);

/// What is wrong with the wishes: a mode that is wished twice, or so far off from what was tapped
/// that a figure must be mistyped. Nothing where all is well.
std::optional<base::Fault> fault_in(const PlateStudy& study, const PlanRequest& request);

/// Modes 1, 2 and 5 of the reference where nothing is wished of them: the others are told apart
/// less surely. Reference and wishes are set over to the air of the plate's now; figures after a
/// map was carried on are wider, and no place is planned thinner by what it may be off. Fault:
/// nothing to aim at, a wish for a mode that was not tapped, what fault_in finds; a study that says
/// no_plan, or whose wood is not plausible: a forecast from it would mislead. Cost: under 1 s.
/// Threads: pure.
base::Result<PlanAnswer> answer(const PlateStudy& study, const PlanRequest& request);

} // namespace platewright::trends
