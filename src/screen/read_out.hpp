#pragma once
#include "plot/chart.hpp"
#include "screen/sight.hpp"

namespace platewright::screen {

/// What a spectrum chart says under the pointer: a line through it, and frequency and level in the
/// frame's lower corner. Nothing while the pointer is elsewhere.
void read_out(const Sight& sight, const plot::Frame& frame);

} // namespace platewright::screen
