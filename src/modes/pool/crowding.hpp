#pragma once
#include "modes/mode.hpp"

#include <span>

namespace platewright::modes {

/// How closely others stand around modes[i]: the root of the sum of (half-power width / distance)²
/// over them. Modal analysis calls it modal overlap, there by the mean distance. In: modes of one
/// session; an order is not needed.
double crowding(std::span<const Mode> modes, std::size_t i);

/// Widens each mode's deviations by what its neighbours cost. What one pole takes of another's ring
/// it takes in every tap alike, and each of them states it too small: by the root of 1 + (k
/// crowding)².
void widen_for_neighbours(std::span<Mode> modes);

} // namespace platewright::modes
