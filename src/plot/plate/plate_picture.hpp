#pragma once
#include "plot/chart.hpp"
#include "plot/plate/contours.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::plot {

/// Which colours a field takes: `rising` from little to much, `about_zero` less and more than
/// nothing.
enum class Shading { rising, about_zero };

/// A place on the plate with a mark and words beside it; empty words: the mark alone.
struct PlateMark {
    Point at = {}; // mm
    std::string words = {};
    Shape shape = Shape::disc;
    bool strong = false; // in the accent's colour
    bool on_it = false;  // the words stand in the mark's place; where they crowd, a speck
};

/// A plate seen from its outside, scroll end up, as data. Places in mm on the plate: x to the right
/// from the centre line, y UPWARDS from the lower end.
struct PlatePicture {
    std::string title = {};
    std::vector<std::vector<Point>> rims = {};  // closed: the outline first, then f-holes
    std::vector<std::vector<Point>> lines = {}; // open: a bass bar, a joint
    TriangleField field = {};                   // empty: none
    Shading shading = Shading::rising;
    std::string quantity = {};                 // of the field, with its unit: "thickness, mm"
    std::optional<double> low = {}, high = {}; // ends of the scale; nothing: those of the field
    std::vector<PlateMark> marks = {};
    bool has_legend = true;      // else the plate has its room, and the marks' figures speak
    std::string when_empty = {}; // said across the plate where there is no field
};

/// Where the plate ended up, for pointing at it.
struct PlateFrame {
    Point origin = {}; // surface place of x = 0, y = 0
    double per_mm = 1.0;
    Point place(Point mm) const { return {origin.x + per_mm * mm.x, origin.y - per_mm * mm.y}; }
    Point mm(Point place_) const {
        return {(place_.x - origin.x) / per_mm, (origin.y - place_.y) / per_mm};
    }
};

/// The levels between which the field's colours change, as drawn.
std::vector<double> levels_of(const PlatePicture& picture, int most = 8);

/// Draws the plate as large as the area allows, filled between its levels, with contour lines
/// (dashed below nothing, bold at nothing) that bear their values, and a legend beside it. Text
/// never leaves the area. Cost: linear in triangles times levels. Threads: any, one canvas per
/// thread.
PlateFrame draw(const PlatePicture& picture, const Box& area, Canvas& canvas,
                const Palette& palette, const DrawStyle& style = {});

} // namespace platewright::plot
