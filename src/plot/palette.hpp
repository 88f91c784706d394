#pragma once
#include "plot/canvas.hpp"

namespace platewright::plot {

/// The colours charts and views are drawn with: one set for daylight, one for a dim workshop and
/// one for paper. Every pair used as text on ground keeps a contrast of at least 4.5 : 1
/// (W3C, Web Content Accessibility Guidelines 2.1, criterion 1.4.3), and the three mode colours
/// stay apart for readers without red, green or blue cones (tests/plot/palette_test.cpp).
struct Palette {
    Colour ground = {};     // the surface everything stands on
    Colour panel = {};      // a raised sheet on the ground
    Colour line = {};       // grid lines, borders
    Colour ink = {};        // main text
    Colour faint_ink = {};  // second text: units, hints
    Colour accent = {};     // what is chosen or focused
    Colour on_accent = {};  // text on the accent
    Colour mode_1 = {};     // twist
    Colour mode_2 = {};     // X
    Colour mode_5 = {};     // ring
    Colour other_mode = {}; // modes without a name
    Colour now = {};        // the tap just heard
    Colour mean = {};       // the session's mean
    Colour ghost = {};      // earlier sessions
    Colour bad = {};        // ground of a grave notice
    Colour on_bad = {};
    Colour caution = {}; // ground of a warning
    Colour on_caution = {};
    // The solid fields that answer a strike: three levels of luminance, each 4.5 : 1 from the next,
    // which leaves black, a middle and white. What is kept lies farthest from the panel, what is
    // refused in the middle, what is not kept by the panel and is edged with slanted bars. The two
    // ends have no room for a hue: it is in what stands on them.
    Colour kept = {};
    Colour on_kept = {};
    Colour refused = {};
    Colour on_refused = {};
    Colour not_kept = {};
    Colour on_not_kept = {};
};

const Palette& light_palette();
const Palette& dark_palette();
/// White paper, for print.
const Palette& paper_palette();

/// How a mode is drawn everywhere. `name` is 1, 2, 5 or a body's 101 to 104; any other is an
/// unnamed mode.
struct ModeLook {
    Colour colour = {};
    Shape shape = Shape::ring;
};
ModeLook mode_look(int name, const Palette& palette);

/// Colours for the values of a map. Both scales step evenly in lightness (CIE 1976 L*), so that
/// they read in grey and without red, green or blue cones; the maps bear lines and figures beside
/// them (tests/plot/palette_test.cpp).

/// Little to much: pale straw, through amber and russet, to nearly black brown. `share` 0 to 1,
/// held to that range.
Colour rising_shade(double share);

/// Less than nothing to more: deep blue, through paper white at 0, to deep russet. `share` −1 to 1.
Colour signed_shade(double share);

} // namespace platewright::plot
