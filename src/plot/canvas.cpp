#include "plot/canvas.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plot {

Colour Colour::faded(double opacity_0_1) const {
    Colour out = *this;
    const double share = std::clamp(opacity_0_1, 0.0, 1.0);
    out.opacity = static_cast<std::uint8_t>(std::lround(share * 255.0));
    return out;
}

Colour Colour::over(Colour ground, double opacity_0_1) const {
    const double share = std::clamp(opacity_0_1, 0.0, 1.0);
    const auto mixed = [share](std::uint8_t upper, std::uint8_t lower) {
        return static_cast<std::uint8_t>(std::lround(share * upper + (1.0 - share) * lower));
    };
    return {mixed(red, ground.red), mixed(green, ground.green), mixed(blue, ground.blue),
            ground.opacity};
}

std::vector<Point> corners(Shape shape, Point centre, double size) {
    const double r = 0.5 * size;
    const auto at = [centre, r](double x, double y) {
        return Point{centre.x + x * r, centre.y + y * r};
    };
    switch (shape) {
    case Shape::diamond:
        return {at(0, -1.15), at(1.15, 0), at(0, 1.15), at(-1.15, 0)};
    case Shape::triangle:
        return {at(0, -1.1), at(1.1, 0.85), at(-1.1, 0.85)};
    case Shape::square:
        return {at(-0.9, -0.9), at(0.9, -0.9), at(0.9, 0.9), at(-0.9, 0.9)};
    case Shape::cross: {
        const double w = 0.3; // half an arm's width, along the diagonals
        return {at(0, -w), at(1 - w, -1), at(1, w - 1),  at(w, 0),  at(1, 1 - w),  at(1 - w, 1),
                at(0, w),  at(w - 1, 1),  at(-1, 1 - w), at(-w, 0), at(-1, w - 1), at(w - 1, -1)};
    }
    case Shape::disc:
    case Shape::ring:
        break;
    }
    return {};
}

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
