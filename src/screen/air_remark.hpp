#pragma once
#include "screen/sight.hpp"

#include <string>

namespace platewright::screen {

/// What setting the plate's sessions over to one air does to their figures; the plate's sessions
/// have to be set over. Nothing of it is hidden from who sees the figures.
std::string air_remark(const Sight& sight);

} // namespace platewright::screen
