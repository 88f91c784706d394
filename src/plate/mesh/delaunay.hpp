#pragma once
/// Delaunay triangulation of points in the plane.

#include "plate/shape/point.hpp"

#include <array>
#include <span>
#include <vector>

namespace platewright::plate {

using Triangle = std::array<int, 3>; // indices of points, counter-clockwise

/// Triangulates the convex hull of distinct points by insertion (A. Bowyer, D. F. Watson,
/// The Computer Journal 24, 1981). Floating point only: meant for mesh points kept well apart.
/// Throws std::invalid_argument for fewer than three points. Cost: O(n^2), about 10 ms for 1000.
std::vector<Triangle> triangulate(std::span<const Point> points);

} // namespace platewright::plate
