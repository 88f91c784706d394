#pragma once
#include "plot/chart.hpp"
#include "screen/view_context.hpp"

#include <string>

namespace platewright::screen {

/// "352.8 Hz, F4 +18 cents"; without the note where the maker wants none.
std::string hz_words(const Preferences& preferences, double hz);

/// What a spectrum chart says under the pointer: a line through it, and frequency and level in the
/// frame's lower corner. Nothing while the pointer is elsewhere.
void read_out(const ViewContext& context, const plot::Frame& frame);

/// Lines on a ground of their own, beside the pointer at `at` and within a box.
void draw_read_out(ImguiCanvas& canvas, const ViewContext& context,
                   const std::vector<std::string>& lines, plot::Point at, const plot::Box& within);

} // namespace platewright::screen
