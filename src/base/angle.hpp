#pragma once
#include <numbers>

namespace platewright::base {

/// Angles are told and kept in degrees, and computed in radians.
constexpr double in_rad(double deg) { return deg * std::numbers::pi / 180.0; }
constexpr double in_deg(double rad) { return rad * 180.0 / std::numbers::pi; }

} // namespace platewright::base
