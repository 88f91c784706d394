#pragma once
#include "taps/spot.hpp"

namespace platewright::bench {

/// The way through the modes makers steer by, one spot each: the centre for mode 5, an end for mode
/// 2, a bout's edge for mode 1 (common practice, no source); then no spot.
taps::Spot next_sought(taps::Spot spot);

/// The mode a spot is struck for; 0 where none is.
int mode_sought(taps::Spot spot);

} // namespace platewright::bench
