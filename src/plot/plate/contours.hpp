#pragma once
#include "plot/canvas.hpp"

#include <array>
#include <span>
#include <vector>

namespace platewright::plot {

/// Values at the corners of triangles, straight between them.
struct TriangleField {
    std::vector<Point> at = {};
    std::vector<std::array<int, 3>> triangles = {}; // all turning the same way
    std::vector<double> values = {};                // one a point
};

/// The convex pieces where low ≤ value < high, in the field's own places; each turns as its
/// triangle does. Cost: linear in the triangles.
std::vector<std::vector<Point>> band(const TriangleField& field, double low, double high);

/// The lines where the field has this value, joined to chains; a closed one ends where it begins.
std::vector<std::vector<Point>> contour(const TriangleField& field, double level);

/// Round levels (1, 2 or 5 times a power of ten apart), at most `most` (≥ 2) of them strictly
/// between the ends; empty where the ends are not apart.
std::vector<double> round_levels(double low, double high, int most);

} // namespace platewright::plot
