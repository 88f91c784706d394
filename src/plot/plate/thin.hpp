#pragma once
#include "plot/canvas.hpp"

#include <span>
#include <vector>

namespace platewright::plot {

/// A line with no more points than the surface can show: in each column one unit wide the first,
/// lowest, highest and last point stay, so that no peak is lost or made lower.
/// In: surface units, x ascending. Out: at most 4 points a column, in the order of the line.
std::vector<Point> thin(const std::vector<Point>& line);

/// A line without the points that lie within `tolerance` of the straight way between those that
/// stay; its ends stay. In: any line, surface units, `tolerance` > 0. After Williams' cone of
/// directions (docs/sources.md#williams). Cost: O(n). Pure.
std::vector<Point> straightened(std::span<const Point> line, double tolerance);

} // namespace platewright::plot
