#pragma once
#include "plot/chart.hpp"
#include "screen/sight.hpp"

#include <string>

namespace platewright::screen {

/// "352.8 Hz, F4 +18 cents"; without the note where the maker wants none.
std::string hz_words(const Wishes& wishes, double hz);

/// What a spectrum chart says under the pointer: a line through it, and frequency and level in the
/// frame's lower corner. Nothing while the pointer is elsewhere.
void read_out(const Sight& sight, const plot::Frame& frame);

} // namespace platewright::screen
