#pragma once
#include "ledger/record.hpp"
#include "main/json.hpp"
#include "trends/review/flex_review.hpp"
#include "trends/review/map_review.hpp"

#include <vector>

namespace platewright::cli {

/// What a session's calipers, hand and eye found, ready to be printed.
struct ShownMap {
    const ledger::PlateHistory& history;
    trends::MapReview review;
    std::vector<trends::FlexCheck> flexes; ///< beside the model; empty where none were read
};

void print_json(const ShownMap& shown); ///< platewright.caliper/1
void print_text(const ShownMap& shown);

/// Flex readings beside the model, for `caliper` and `plan` alike.
Json flexes_json(const std::vector<trends::FlexCheck>& checks);
void say_flexes(const std::vector<trends::FlexCheck>& checks); ///< nothing where there are none

} // namespace platewright::cli
