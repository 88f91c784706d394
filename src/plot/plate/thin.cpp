#include "plot/plate/thin.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plot {

std::vector<Point> thin(const std::vector<Point>& line) {
    std::vector<Point> kept;
    kept.reserve(std::min<std::size_t>(line.size(), 8192));
    for (std::size_t i = 0; i < line.size();) {
        const double column = std::floor(line[i].x);
        std::size_t low = i;
        std::size_t high = i;
        std::size_t last = i;
        for (std::size_t j = i; j < line.size() && std::floor(line[j].x) == column; ++j) {
            last = j;
            low = line[j].y < line[low].y ? j : low;
            high = line[j].y > line[high].y ? j : high;
        }
        std::array<std::size_t, 4> stay{i, low, high, last};
        std::sort(stay.begin(), stay.end());
        const auto* end = std::unique(stay.begin(), stay.end());
        for (const auto* k = stay.begin(); k != end; ++k) {
            kept.push_back(line[*k]);
        }
        i = last + 1;
    }
    return kept;
}

namespace {

double cross(Point a, Point b) { return a.x * b.y - a.y * b.x; }

/// The directions from one point of a line in which the points after it are passed closely enough.
struct Cone {
    Point left = {}, right = {};
    bool open = false;    // to all sides
    double reached = 0.0; // the greatest distance so far

    /// Whether a straight way to `at`, seen from the cone's point, passes all before it closely;
    /// then `at` is one of them.
    bool takes(Point at, double tolerance) {
        const double distance = std::hypot(at.x, at.y);
        if (distance <= tolerance && open) {
            return true;
        }
        if (distance < reached || (!open && (cross(left, at) > 0.0 || cross(right, at) < 0.0))) {
            return false;
        }
        const double share = tolerance / distance;
        const Point off{-at.y * share, at.x * share};
        const Point further{at.x + off.x, at.y + off.y}, nearer{at.x - off.x, at.y - off.y};
        left = open || cross(left, further) < 0.0 ? further : left;
        right = open || cross(right, nearer) > 0.0 ? nearer : right;
        open = false;
        reached = distance;
        return true;
    }
};

} // namespace

std::vector<Point> straightened(std::span<const Point> line, double tolerance) {
    std::vector<Point> kept;
    if (line.empty()) {
        return kept;
    }
    kept.push_back(line.front());
    Cone cone{.open = true};
    for (std::size_t i = 1; i < line.size(); ++i) {
        const auto from_last = [&] {
            return Point{line[i].x - kept.back().x, line[i].y - kept.back().y};
        };
        if (!cone.takes(from_last(), tolerance)) {
            kept.push_back(line[i - 1]);
            cone = {.open = true};
            cone.takes(from_last(), tolerance);
        }
    }
    if (line.size() > 1) {
        kept.push_back(line.back());
    }
    return kept;
}

} // namespace platewright::plot
