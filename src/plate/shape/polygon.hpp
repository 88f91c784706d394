#pragma once
/// Closed and open polylines in the plane of the plate.

#include "plate/shape/point.hpp"

#include <cstddef>
#include <span>
#include <vector>

namespace platewright::plate {

using Loop = std::vector<Point>; // closed: the last point joins the first, which is not repeated

/// Signed area in mm^2, positive counter-clockwise.
double signed_area_mm2(std::span<const Point> loop);

/// Twice that of a triangle.
inline double twice_area_mm2(Point a, Point b, Point c) {
    return (b.x_mm - a.x_mm) * (c.y_mm - a.y_mm) - (b.y_mm - a.y_mm) * (c.x_mm - a.x_mm);
}

/// True if the point lies inside the loop (crossing rule). Points on the line may fall either way.
bool contains(std::span<const Point> loop, Point point);

/// Distance in mm from the point to the nearest place on the loop's line.
double distance_mm(std::span<const Point> loop, Point point);

/// Points along an open polyline at equal steps of about spacing_mm, both ends included.
std::vector<Point> spaced(std::span<const Point> line, double spacing_mm);

/// Points along a loop at about equal steps; its corners (a turn of 30 degrees or more) stay.
Loop spaced_loop(std::span<const Point> loop, double spacing_mm);

/// The places in `loop` of the points that are enough to draw it: no other lies farther than
/// `tolerance_mm` off the line through them. Ascending. Source: D. Douglas and T. Peucker,
/// Cartographica 10 (1973). Cost: n log n as a rule.
std::vector<std::size_t> thinned(std::span<const Point> loop, double tolerance_mm);

/// The points at these places of a loop.
Loop points_at(std::span<const Point> loop, std::span<const std::size_t> places);

/// The indices of two sides of the loop that cross, {-1, -1} if none do. Cost: O(n^2).
struct Crossing {
    int first = -1;
    int second = -1;
    explicit operator bool() const { return first >= 0; }
};
Crossing find_crossing(std::span<const Point> loop);

} // namespace platewright::plate
