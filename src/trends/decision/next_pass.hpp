#pragma once
#include "trends/decision/decision.hpp"
#include "trends/model/plan_request.hpp"

#include <memory>
#include <optional>
#include <span>
#include <string>

namespace platewright::trends {

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
