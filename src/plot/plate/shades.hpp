#pragma once
#include "plot/canvas.hpp"

namespace platewright::plot {

/// Colours for the values of a map. Both scales step evenly in lightness (CIE 1976 L*), so that
/// they read in grey and without red, green or blue cones; the maps bear lines and figures beside
/// them (tests/plot/shades_test.cpp).

/// Little to much: pale straw, through amber and russet, to nearly black brown. `share` 0 to 1,
/// held to that range.
Colour rising_shade(double share);

/// Less than nothing to more: deep blue, through paper white at 0, to deep russet. `share` −1 to 1.
Colour signed_shade(double share);

/// Black or white, whichever stands out better on this ground.
Colour ink_on(Colour ground);

} // namespace platewright::plot
