#pragma once
#include "main/json.hpp"
#include "trends/model/cut_trial.hpp"

namespace platewright::cli {

/// The weighings of a session, beside the model where there is one.
struct ShownWeighings {
    const ledger::PlateHistory& history;
    std::size_t session;
    const trends::PlateStudy* study; ///< null: there is no model
};
Json to_json(const ShownWeighings& shown);
void say(const ShownWeighings& shown);

/// A cut tried on the model.
Json to_json(const trends::CutTrial& trial, std::span<const trends::BeyondGoal> beyond);
void say(const trends::CutTrial& trial, std::span<const trends::BeyondGoal> beyond,
         const std::string& plate);

/// What to measure next, for `plan` and `rehearse` alike.
Json next_json(const std::vector<plate::NextMeasurement>& next,
               const std::vector<std::string>& words);
void say_next(const std::vector<std::string>& words);

} // namespace platewright::cli
