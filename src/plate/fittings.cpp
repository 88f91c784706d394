#include "plate/fittings.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace platewright::plate {
namespace {

constexpr int k_steps_a_side = 40;

// The middle line of the slot: an S whose ends run along the plate.
Point middle_line(const FHole& hole, double t) {
    const double s = t * t * (3.0 - 2.0 * t); // 0 and 1 with zero slope
    return {std::lerp(hole.lower.x_mm, hole.upper.x_mm, s),
            std::lerp(hole.lower.y_mm, hole.upper.y_mm, t)};
}

double half_width(const FHole& hole, double t) {
    // from the eye's radius at the end to half the slot within a fifth of the length
    const auto part = [](double from_end) { return std::exp(-from_end * from_end / 0.01); };
    const double slot = 0.5 * hole.slot_mm;
    return slot + (0.5 * hole.lower_eye_mm - slot) * part(t) +
           (0.5 * hole.upper_eye_mm - slot) * part(1.0 - t);
}

} // namespace

FHole usual_f_hole(const OutlineSize& size) {
    const double length = size.length_mm;
    const double scale = length / 355.0;
    FHole hole;
    hole.upper = {24.0 * scale, 0.605 * length};
    hole.lower = {0.5 * size.waist_mm * 0.88, 0.445 * length};
    hole.slot_mm = 6.0 * std::sqrt(scale);
    hole.upper_eye_mm = 6.5 * scale;
    hole.lower_eye_mm = 8.5 * scale;
    return hole;
}

std::array<Loop, 2> f_hole_loops(const FHole& hole) {
    std::vector<Point> outer, inner; // the slot's right and left side, going up
    for (int k = 0; k <= k_steps_a_side; ++k) {
        const double t = static_cast<double>(k) / k_steps_a_side;
        const Point p = middle_line(hole, t);
        const Point ahead = middle_line(hole, std::min(1.0, t + 1e-4));
        const Point behind = middle_line(hole, std::max(0.0, t - 1e-4));
        const double dx = ahead.x_mm - behind.x_mm, dy = ahead.y_mm - behind.y_mm;
        const double width = half_width(hole, t) / std::hypot(dx, dy);
        outer.push_back({p.x_mm + width * dy, p.y_mm - width * dx});
        inner.push_back({p.x_mm - width * dy, p.y_mm + width * dx});
    }
    const auto cap = [](Loop& loop, Point middle, double radius, double from_angle) {
        for (int k = 1; k < 8; ++k) {
            const double angle = from_angle + std::numbers::pi * k / 8.0;
            loop.push_back(
                {middle.x_mm + radius * std::cos(angle), middle.y_mm + radius * std::sin(angle)});
        }
    };
    Loop right(outer.begin(), outer.end());
    cap(right, hole.upper, half_width(hole, 1.0), 0.0);
    right.insert(right.end(), inner.rbegin(), inner.rend());
    cap(right, hole.lower, half_width(hole, 0.0), std::numbers::pi);
    Loop left;
    for (auto p = right.rbegin(); p != right.rend(); ++p)
        left.push_back({-p->x_mm, p->y_mm});
    return {right, left};
}

double BassBar::height_at(double t) const {
    const double from_middle = std::abs(2.0 * t - 1.0);
    return height_mm - (height_mm - end_height_mm) * std::pow(from_middle, fullness);
}

BassBar usual_bar(const OutlineSize& size) {
    const double scale = size.length_mm / 355.0;
    BassBar bar;
    bar.lower = {-0.095 * size.lower_mm, 0.115 * size.length_mm};
    bar.upper = {-0.085 * size.upper_mm, 0.875 * size.length_mm};
    bar.width_mm = 5.5 * std::pow(scale, 0.8);
    bar.height_mm = 11.0 * std::pow(scale, 0.9);
    bar.end_height_mm = 2.0 * scale;
    return bar;
}

} // namespace platewright::plate
