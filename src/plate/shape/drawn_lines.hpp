#pragma once
/// Closed lines as they come from drawings and tables, before it is known what they are of.

#include "base/result.hpp"
#include "plate/shape/polygon.hpp"
#include "plate/thickness/table_text.hpp"

#include <string_view>
#include <vector>

namespace platewright::plate {

/// The pieces of the `d` attribute of an SVG path in mm (SVG 1.1 section 8.3): commands M L H V C S
/// Q T Z, large and small; y upwards, where SVG has it downwards. Arcs (A) are refused. Curves in
/// sixteen steps. Fault: why it can't be read, to be put into a sentence.
base::Result<std::vector<Loop>> pieces_of_svg_path(std::string_view text);

/// The `d` of each path that is drawn, in order: none in a comment or in what is only text
/// (XML 1.0, 2.5 to 2.7).
std::vector<std::string_view> paths_of_svg(std::string_view drawing);

/// Points of a table, two numbers a line (x and y in mm); decimal comma accepted with blanks, tabs
/// or semicolons between. Lines without two numbers at the top are skipped; further down they begin
/// the next piece, and are told.
struct PointTable {
    std::vector<Loop> pieces;
    std::vector<NumberedLine> between;
};
PointTable points_of_csv(std::string_view text);

} // namespace platewright::plate
