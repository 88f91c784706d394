#include "screen/bench/struck_plate.hpp"

#include "screen/carve/carving_sheet.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>
#include <vector>

namespace platewright::screen {
namespace {
using plot::Point;

constexpr double k_bridge = 0.545, k_bridge_foot = 0.05; // from above, and to either side

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
        return Point{-k_bridge_foot, k_bridge};
    case taps::Spot::bridge_treble:
        return Point{k_bridge_foot, k_bridge};
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

void OwnOutline::follow(const ViewContext& context) {
    if (made_of_ == context.now.plate) {
        return;
    }
    made_of_ = context.now.plate;
    left.clear();
    right.clear();
    edges.clear();
    lines.clear();
    length_mm_ = 0.0;
    const auto outline = trends::outline_of(trends::form_of(made_of_->history));
    if (!outline) {
        return;
    }
    const double length_mm = length_mm_ = outline->size.length_mm;
    const auto placed = [length_mm](double x_mm, double y_mm) {
        return Point{x_mm / length_mm, 1.0 - y_mm / length_mm};
    };
    constexpr int k_heights = 160;
    for (int i = 0; i <= k_heights; ++i) {
        const double y_mm = length_mm * (1.0 - static_cast<double>(i) / k_heights);
        const auto extent = outline->extent(y_mm);
        left.push_back(placed(extent.left_mm, y_mm));
        right.push_back(placed(extent.right_mm, y_mm));
    }
    const auto take_over = [&](const std::vector<std::vector<Point>>& from,
                               std::vector<std::vector<Point>>& to, bool closed) {
        for (const std::vector<Point>& one : from) {
            auto& line = to.emplace_back();
            for (const Point p : one) {
                line.push_back(placed(p.x, p.y));
            }
            if (closed && !line.empty()) {
                line.push_back(line.front());
            }
        }
    };
    if (made_of_->history.plate.part == modes::Part::body) { // its top is what is seen and struck
        const auto top = trends::plate_form(trends::form_of(made_of_->history), modes::Part::top,
                                            modes::Stage::f_holes_cut);
        if (top) {
            take_over(bare_picture(*top, false).rims, edges, true);
        } else {
            edges = {left, right};
        }
        edges.push_back({{-k_bridge_foot, k_bridge}, {k_bridge_foot, k_bridge}});
        return;
    }
    const plot::PlatePicture picture = outline_shown(context);
    take_over(picture.rims, edges, true);
    take_over(picture.lines, lines, false);
}

std::optional<Point> OwnOutline::placed(plate::Point at) const {
    return length_mm_ > 0.0 ? std::optional(Point{at.x_mm / length_mm_, 1.0 - at.y_mm / length_mm_})
                            : std::nullopt;
}

void draw_plate(ImguiCanvas& canvas, const Look& look, const plot::Box& box,
                const OwnOutline& plate, std::optional<taps::Spot> struck, int sought, bool of_body,
                std::optional<Point> mass) {
    double half = 0.3; // of the length; a measured outline may be wider
    for (const Point p : plate.right) {
        half = std::max(half, p.x);
    }
    const double length = std::min(box.height(), 0.98 * box.width() / (2.0 * half));
    const Point head{0.5 * (box.left + box.right), box.top + 0.5 * (box.height() - length)};
    const auto at = [&](double x, double y) {
        return Point{head.x + x * length, head.y + y * length};
    };
    const auto on_box = [&](const std::vector<Point>& line) {
        std::vector<Point> placed;
        for (const Point p : line) {
            placed.push_back(at(p.x, p.y));
        }
        return placed;
    };
    const plot::Palette& palette = *look.palette;
    canvas.ribbon(on_box(plate.left), on_box(plate.right), palette.mean.faded(0.22));
    for (const auto& edge : plate.edges) {
        canvas.polyline(on_box(edge), {palette.mean, 2.0 * look.scale, plot::Dash::solid});
    }
    for (const auto& seam : plate.lines) {
        canvas.polyline(on_box(seam), {palette.mean.faded(0.7), look.scale, plot::Dash::dashed});
    }
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
    if (mass) { // as on the sheet that it was clicked on
        canvas.mark(at(mass->x, mass->y), plot::Shape::disc, 30.0 * unit, palette.accent);
    }
}

} // namespace platewright::screen
