#pragma once
#include "trends/decision/decision.hpp"
#include "trends/model/cut_trial.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/review/map_review.hpp"
#include "trends/review/pass_review.hpp"

#include <memory>
#include <optional>
#include <string>

namespace platewright::bench {

/// All that a model of a plate is made from, as values: whatever is different makes another model.
/// Left out is what can't change one: taps (their modes count, but for weighings), plans, pins,
/// notes, names of things.
struct StudyInputs {
    ledger::PlateHistory history; ///< up to the session
    std::size_t session = 0;
    bool operator==(const StudyInputs&) const = default;
};
StudyInputs inputs_of(const ledger::PlateHistory& history, std::size_t session);

/// What the worker has computed of the plate on the bench, and what it is at. Immutable once
/// published.
struct PlateWork {
    StudyInputs of;      ///< what it was computed from
    std::string doing;   ///< a sentence while it computes; empty at rest
    double share = 0.0;  ///< done of that, 0..1
    std::string trouble; ///< why there is no model of the plate; empty where there is one
    std::string map_trouble;
    std::shared_ptr<const trends::MapReview> map;
    std::shared_ptr<const trends::PlateStudy> study;
    std::shared_ptr<const trends::PlanAnswer> plan; ///< of this study, newest
    std::string plan_trouble;                       ///< why there is no plan
    std::shared_ptr<const trends::NextPass> next;   ///< of this study, towards the plate's goals
    std::shared_ptr<const trends::CutTrial> trial;  ///< on this study, newest
    std::string trial_trouble;                      ///< why it can't be tried
    std::optional<trends::PlanHindsight> hindsight;
};

/// Whether advice of wood, or to stop, still lacks the model's word: this plate's is being fitted.
/// work: null where none was asked for.
inline bool lacks_word_of_model(const trends::Decision& decision, const PlateWork* work) {
    return trends::asks_model(decision.advice) && !decision.by_model && work != nullptr &&
           !work->doing.empty() && !work->next;
}

} // namespace platewright::bench
