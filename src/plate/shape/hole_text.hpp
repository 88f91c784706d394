#pragma once
/// The line of an f-hole as its maker draws it.

#include "base/result.hpp"
#include "plate/shape/polygon.hpp"

#include <string_view>
#include <vector>

namespace platewright::plate {

/// F-holes from closed lines: one, or the right and the left one. Out: counter-clockwise loops, the
/// right hole first; a left one alone comes as the right one that it mirrors. Where one of the
/// lines goes round all others it is the plate's outline, and the holes move with it to where
/// outline_from_points puts it; else the lines lie as they are to lie, x from the middle line, y
/// from the lower end. Very many points are thinned as an outline's are.
/// Fault: no line or too many, fewer than 8 points, sides that cross, next to no area, both on one
/// side. Whether they lie on a plate is trends::fault_in's to say.
base::Result<std::vector<Loop>> holes_from_lines(std::vector<Loop> lines);

/// The pieces of points_of_csv (drawn_lines.hpp): a line of words parts the two holes. Faults name
/// the line.
base::Result<std::vector<Loop>> holes_from_csv(std::string_view text);

/// The pieces of pieces_of_svg_path (drawn_lines.hpp).
base::Result<std::vector<Loop>> holes_from_svg_path(std::string_view text);

/// The pieces of all paths of an SVG drawing.
base::Result<std::vector<Loop>> holes_from_svg(std::string_view drawing);

} // namespace platewright::plate
