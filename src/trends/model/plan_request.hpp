#pragma once
#include "trends/decision/decision.hpp"
#include "trends/model/plan_zones.hpp"
#include "trends/model/plate_study.hpp"

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// What is asked of a plan; the same from the window and from the command line.
struct PlanRequest {
    std::vector<Goal> wishes;                 ///< of the maker; they count before the reference
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

/// What is wrong with the wishes: a mode that is wished twice. Nothing where all is well. Whether a
/// figure may be mistyped is question_to's, asked where it is typed; of one that is meant the plan
/// says how far it comes.
std::optional<base::Fault> fault_in(std::span<const Goal> wishes);

/// Modes 1, 2 and 5 of the reference where nothing is wished of them: the others are told apart
/// less surely. Reference and wishes are set over to the air of the plate's now; figures after a
/// map was carried on are wider, and no place is planned thinner by what it may be off. Fault:
/// nothing to aim at, a wish for a mode that was not tapped, what fault_in finds; a study that says
/// no_plan, or whose wood is not plausible: a forecast from it would mislead. Cost: under 1 s.
/// Threads: pure.
base::Result<PlanAnswer> answer(const PlateStudy& study, const PlanRequest& request);

/// The plan with a pass of so many grams, all of it at the most; what the pass is expected to do is
/// in proportion. A plan without a pass stays as it is.
ledger::PlanRecord with_pass_of(ledger::PlanRecord plan, double grams);

/// What the plate's model says of the next pass towards the goals: a plan, and what it means for a
/// decision. Immutable once made.
struct NextPass {
    std::shared_ptr<const PlanAnswer> plan; ///< null where there can't be one
    std::string no_plan;                    ///< why not, in a sentence
    PassForesight foresight;                ///< of the plan
};

/// The plan that brings the modes to their goals (in the air that is given; nothing: the plate's),
/// within the usual limits, and what it foresees. Cost: under 1 s. Threads: pure.
NextPass next_pass(const PlateStudy& study, std::span<const Goal> goals, modes::InstrumentKind kind,
                   std::optional<Air> goals_air = std::nullopt);

} // namespace platewright::trends
