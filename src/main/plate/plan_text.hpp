#pragma once
#include "ledger/record.hpp"
#include "main/json.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/review/pass_review.hpp"

#include <filesystem>
#include <string_view>

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

/// Keeps what was planned or tried, so that it can be held against what happens. Gives why it is
/// not kept, `what` being its name; empty where it is.
std::string keep_plan(ledger::PlanRecord record, const std::filesystem::path& folder,
                      std::string_view what);

} // namespace platewright::cli
