#pragma once
#include "screen/draw/imgui_canvas.hpp"

namespace platewright::screen {

/// Fills the box with slanted bars: what can't be told from the panel by its luminance is told by
/// them.
void slanted_bars(ImguiCanvas& canvas, const plot::Box& box, plot::Colour ink, double scale);

} // namespace platewright::screen
