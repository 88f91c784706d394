#pragma once
#include "trends/map_review.hpp"
#include "trends/pass_review.hpp"
#include "trends/plan_request.hpp"

#include <memory>
#include <optional>
#include <string>

namespace platewright::bench {

/// What the worker has computed of the plate on the bench, and what it is at. Immutable once
/// published.
struct PlateWork {
    std::string key;     ///< what it was computed from: work_key
    std::string doing;   ///< a sentence while it computes; empty at rest
    double share = 0.0;  ///< done of that, 0..1
    std::string trouble; ///< why there is no model of the plate; empty where there is one
    std::string map_trouble;
    std::shared_ptr<const trends::MapReview> map;
    std::shared_ptr<const trends::PlateStudy> study;
    std::shared_ptr<const trends::PlanAnswer> plan; ///< of this study, newest
    std::string plan_trouble;                       ///< why there is no plan
    std::optional<trends::PlanHindsight> hindsight;
};

/// Tells whether a model was made from these sessions up to this one: anything that would change it
/// changes the key.
std::string work_key(const ledger::PlateHistory& history, std::size_t session);

} // namespace platewright::bench
