#pragma once
#include "screen/imgui_canvas.hpp"
#include "taps/spot.hpp"

#include <optional>

namespace platewright::screen {

/// A small plate, scroll end up, seen from outside, with its nine spots (of a closed
/// body: the bridge's two) as rings, `struck` as a
/// disc and `wanted`, where a tap would settle a doubt or find a mode, as a triangle; where to hold
/// it for the mode `sought` (0: none), as a square. The outline is drawn by hand
/// in a violin's customary proportions (common practice, no source: bouts about 168 and 208, waist
/// 112, on 355 mm); it is a signpost, not a measurement.
void draw_plate(ImguiCanvas& canvas, const Look& look, const plot::Box& box, taps::Spot struck,
                std::optional<taps::Spot> wanted, int sought, bool of_body);

} // namespace platewright::screen
