#include "screen/plate_drawing.hpp"

#include <array>
#include <cmath>
#include <optional>
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

void draw_plate(ImguiCanvas& canvas, const Look& look, const plot::Box& box, taps::Spot struck,
                std::optional<taps::Spot> wanted, int sought, bool of_body) {
    const double length = std::min(box.height(), box.width() / 0.6);
    const Point head{0.5 * (box.left + box.right), box.top + 0.5 * (box.height() - length)};
    const auto at = [&](double x, double y) {
        return Point{head.x + x * length, head.y + y * length};
    };
    std::vector<Point> left;
    std::vector<Point> right;
    for (const Point p : k_edge) {
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
    for (const taps::Spot spot : taps::k_spots) {
        if (taps::is_on_bridge(spot) != of_body)
            continue;
        if (const auto p = place(spot)) {
            const bool here = spot == struck;
            if (spot == wanted && !here) {
                canvas.mark(at(p->x, p->y), plot::Shape::triangle, 20.0 * look.scale,
                            palette.on_caution);
                continue;
            }
            canvas.mark(at(p->x, p->y), here ? plot::Shape::disc : plot::Shape::ring,
                        (here ? 20.0 : 10.0) * look.scale, here ? palette.accent : palette.mean);
        }
    }
    if (const auto hold = hold_for(sought)) {
        canvas.mark(at(hold->x, hold->y), plot::Shape::square, 18.0 * look.scale, palette.ink);
    }
}

} // namespace platewright::screen
