#pragma once
#include "ledger/record.hpp"
#include "main/json.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/review/pass_review.hpp"

namespace platewright::cli {

/// A plan with all it rests on, ready to be printed.
struct ShownPlan {
    ledger::PlateHistory history;
    trends::PlateStudy study;
    trends::PlanAnswer answer;
    std::optional<trends::PlanHindsight> hindsight;
    std::string aim;      ///< where its targets are from: typed, kept, reference
    std::string not_kept; ///< why the ledger does not have it; empty where it has
};

Json to_json(const ShownPlan& shown); ///< platewright.plan/1
void say(const ShownPlan& shown);

} // namespace platewright::cli
