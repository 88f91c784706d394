#pragma once
/// Where the named spots lie on an outline.

#include "modes/mode.hpp"
#include "plate/outline.hpp"

#include <optional>
#include <string_view>

namespace platewright::plate {

/// The place of a spot: edge spots lie 4 % of the widest width inside the edge, where a hammer can
/// strike. Nothing for Spot::unknown.
std::optional<Point> spot_place(const Outline& outline, taps::Spot spot);

/// A place by name: a spot's word ("upper_bout_left"), or nothing.
std::optional<Point> named_place(const Outline& outline, std::string_view name);

} // namespace platewright::plate
