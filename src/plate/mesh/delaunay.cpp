#include "plate/mesh/delaunay.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

struct Circled {
    Triangle corners{};
    double x = 0.0; // centre of the circumscribed circle
    double y = 0.0;
    double radius_squared = 0.0;
};

struct Edge {
    int from = 0;
    int to = 0;
};

Circled circle_around(const std::vector<Point>& p, int a, int b, int c) {
    const auto& pa = p[static_cast<std::size_t>(a)];
    const double bx = p[static_cast<std::size_t>(b)].x_mm - pa.x_mm;
    const double by = p[static_cast<std::size_t>(b)].y_mm - pa.y_mm;
    const double cx = p[static_cast<std::size_t>(c)].x_mm - pa.x_mm;
    const double cy = p[static_cast<std::size_t>(c)].y_mm - pa.y_mm;
    const double twice = 2.0 * (bx * cy - by * cx);
    const double b2 = bx * bx + by * by;
    const double c2 = cx * cx + cy * cy;
    const double ux = (cy * b2 - by * c2) / twice;
    const double uy = (bx * c2 - cx * b2) / twice;
    return {{a, b, c}, pa.x_mm + ux, pa.y_mm + uy, ux * ux + uy * uy};
}

// The edges of the removed triangles that belong to one of them only: the rim of the cavity.
std::vector<Edge> rim_of(const std::vector<Triangle>& cavity) {
    std::vector<Edge> rim;
    for (const auto& t : cavity) {
        for (std::size_t k = 0; k < 3; ++k) {
            const Edge edge{t[k], t[(k + 1) % 3]};
            const auto twin = std::find_if(rim.begin(), rim.end(), [&](const Edge& other) {
                return other.from == edge.to && other.to == edge.from;
            });
            if (twin == rim.end()) {
                rim.push_back(edge);
            } else {
                rim.erase(twin);
            }
        }
    }
    return rim;
}

} // namespace

std::vector<Triangle> triangulate(std::span<const Point> points) {
    if (points.size() < 3) {
        throw std::invalid_argument("triangulate: needs at least three points");
    }
    std::vector<Point> p(points.begin(), points.end());
    double low_x = p[0].x_mm, high_x = low_x, low_y = p[0].y_mm, high_y = low_y;
    for (const auto& q : p) {
        low_x = std::min(low_x, q.x_mm);
        high_x = std::max(high_x, q.x_mm);
        low_y = std::min(low_y, q.y_mm);
        high_y = std::max(high_y, q.y_mm);
    }
    const double reach = 50.0 * std::max({high_x - low_x, high_y - low_y, 1.0});
    const double mid_x = 0.5 * (low_x + high_x);
    const double mid_y = 0.5 * (low_y + high_y);
    const int count = static_cast<int>(points.size());
    p.push_back({mid_x - 2.0 * reach, mid_y - reach});
    p.push_back({mid_x + 2.0 * reach, mid_y - reach});
    p.push_back({mid_x, mid_y + 2.0 * reach});

    std::vector<Circled> live{circle_around(p, count, count + 1, count + 2)};
    std::vector<Triangle> cavity;
    for (int i = 0; i < count; ++i) {
        const auto& q = p[static_cast<std::size_t>(i)];
        cavity.clear();
        std::erase_if(live, [&](const Circled& t) {
            const double dx = q.x_mm - t.x;
            const double dy = q.y_mm - t.y;
            const bool inside = dx * dx + dy * dy < t.radius_squared * (1.0 - 1e-10);
            if (inside) {
                cavity.push_back(t.corners);
            }
            return inside;
        });
        for (const auto& edge : rim_of(cavity)) {
            live.push_back(circle_around(p, edge.from, edge.to, i));
        }
    }
    std::vector<Triangle> result;
    for (const auto& t : live) {
        if (std::all_of(t.corners.begin(), t.corners.end(), [&](int k) { return k < count; })) {
            result.push_back(t.corners);
        }
    }
    return result;
}

} // namespace platewright::plate
