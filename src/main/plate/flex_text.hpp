#pragma once
#include "main/json.hpp"
#include "trends/review/flex_review.hpp"

#include <vector>

namespace platewright::cli {

/// Flex readings beside the model, for `caliper` and `plan` alike.
Json flexes_json(const std::vector<trends::FlexCheck>& checks);
void say_flexes(const std::vector<trends::FlexCheck>& checks); ///< nothing where there are none

} // namespace platewright::cli
