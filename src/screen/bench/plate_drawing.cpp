#include "screen/bench/plate_side.hpp"

#include <algorithm>
#include <array>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Point;

// Down the right edge: x from the centre line and y from the scroll end, in body lengths.
constexpr std::array k_edge{
    Point{0.000, 0.000}, Point{0.060, 0.004}, Point{0.125, 0.022}, Point{0.185, 0.058},
    Point{0.222, 0.110}, Point{0.236, 0.165}, Point{0.233, 0.215}, Point{0.218, 0.262},
    Point{0.203, 0.300}, Point{0.214, 0.325}, Point{0.186, 0.352}, Point{0.166, 0.395},
    Point{0.158, 0.445}, Point{0.160, 0.500}, Point{0.174, 0.560}, Point{0.203, 0.612},
    Point{0.252, 0.632}, Point{0.246, 0.660}, Point{0.272, 0.705}, Point{0.290, 0.765},
    Point{0.292, 0.820}, Point{0.276, 0.885}, Point{0.234, 0.942}, Point{0.165, 0.980},
    Point{0.085, 0.996}, Point{0.000, 1.000}};

constexpr std::array<std::size_t, 4> k_corners{8, 9, 15, 16}; // of the edge: it turns there

/// The edge as a smooth line between its corners (Catmull-Rom through the points).
std::vector<Point> smooth_edge() {
    constexpr int k_pieces = 6;
    const auto is_corner = [](std::size_t i) {
        return std::find(k_corners.begin(), k_corners.end(), i) != k_corners.end();
    };
    std::vector<Point> line{k_edge.front()};
    for (std::size_t i = 0; i + 1 < k_edge.size(); ++i) {
        const Point a = k_edge[i], b = k_edge[i + 1];
        const Point before = i == 0 ? Point{-b.x, b.y} : is_corner(i) ? a : k_edge[i - 1];
        const Point after = i + 2 == k_edge.size() ? Point{-a.x, a.y}
                            : is_corner(i + 1)     ? b
                                                   : k_edge[i + 2];
        for (int k = 1; k <= k_pieces; ++k) {
            const double t = static_cast<double>(k) / k_pieces;
            const auto along = [t](double p, double q, double r, double s) {
                return 0.5 * (2.0 * q + (r - p) * t + (2.0 * p - 5.0 * q + 4.0 * r - s) * t * t +
                              (3.0 * q - p - 3.0 * r + s) * t * t * t);
            };
            line.push_back(
                {along(before.x, a.x, b.x, after.x), along(before.y, a.y, b.y, after.y)});
        }
    }
    return line;
}

std::optional<Point> place(taps::Spot spot) {
    switch (spot) {
    case taps::Spot::unknown:
        return std::nullopt;
    case taps::Spot::centre:
        return Point{0.0, 0.50};
    case taps::Spot::upper_end:
        return Point{0.0, 0.035};
    case taps::Spot::lower_end:
        return Point{0.0, 0.965};
    case taps::Spot::upper_bout_left:
        return Point{-0.20, 0.17};
    case taps::Spot::upper_bout_right:
        return Point{0.20, 0.17};
    case taps::Spot::waist_left:
        return Point{-0.125, 0.46};
    case taps::Spot::waist_right:
        return Point{0.125, 0.46};
    case taps::Spot::lower_bout_left:
        return Point{-0.255, 0.80};
    case taps::Spot::lower_bout_right:
        return Point{0.255, 0.80};
    case taps::Spot::bridge_bass:
        return Point{-0.05, 0.545};
    case taps::Spot::bridge_treble:
        return Point{0.05, 0.545};
    }
    return std::nullopt;
}

/// On a nodal line of the mode: the middle for the twist, a quarter in from an end for X, on the
/// ring near the upper bout's edge (trade.md; common practice, no source).
std::optional<Point> hold_for(int mode) {
    switch (mode) {
    case 1:
        return Point{0.0, 0.5};
    case 2:
        return Point{0.11, 0.25};
    case 5:
        return Point{0.17, 0.20};
    default:
        return std::nullopt;
    }
}

} // namespace

void draw_plate(ImguiCanvas& canvas, const Look& look, const plot::Box& box,
                std::optional<taps::Spot> struck, int sought, bool of_body) {
    const double length = std::min(box.height(), box.width() / 0.6);
    const Point head{0.5 * (box.left + box.right), box.top + 0.5 * (box.height() - length)};
    const auto at = [&](double x, double y) {
        return Point{head.x + x * length, head.y + y * length};
    };
    std::vector<Point> left;
    std::vector<Point> right;
    for (const Point p : smooth_edge()) {
        left.push_back(at(-p.x, p.y));
        right.push_back(at(p.x, p.y));
    }
    const plot::Palette& palette = *look.palette;
    canvas.ribbon(left, right, palette.mean.faded(0.22));
    const plot::Pen edge{palette.mean, 2.0 * look.scale, plot::Dash::solid};
    canvas.polyline(left, edge);
    canvas.polyline(right, edge);
    const std::array axis{at(0.0, 0.0), at(0.0, 1.0)};
    canvas.polyline(axis, {palette.mean.faded(0.7), look.scale, plot::Dash::dashed});
    const double unit = std::min(1.0, length / (300.0 * look.scale)) * look.scale;
    for (const taps::Spot spot : taps::k_spots) {
        const auto p = place(spot);
        if (!p || taps::is_on_bridge(spot) != of_body) {
            continue;
        }
        const Point centre = at(p->x, p->y);
        if (spot == struck) { // a target: nothing else is drawn so
            canvas.mark(centre, plot::Shape::ring, 52.0 * unit, palette.accent);
            canvas.mark(centre, plot::Shape::ring, 22.0 * unit, palette.accent);
        } else {
            canvas.mark(centre, plot::Shape::ring, 9.0 * unit, palette.mean);
        }
    }
    if (const auto hold = hold_for(sought)) {
        canvas.mark(at(hold->x, hold->y), plot::Shape::square, 26.0 * unit, palette.ink);
    }
}

} // namespace platewright::screen
