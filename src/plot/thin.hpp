#pragma once
#include "plot/canvas.hpp"

#include <vector>

namespace platewright::plot {

/// A line with no more points than the surface can show: in each column one unit wide the first,
/// lowest, highest and last point stay, so that no peak is lost or made lower.
/// In: surface units, x ascending. Out: at most 4 points a column, in the order of the line.
std::vector<Point> thin(const std::vector<Point>& line);

} // namespace platewright::plot
