#include "plate/shape/fittings.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace platewright::plate {
namespace {

// Of a hole, in shares of the height between its eyes.
constexpr double k_upper_curl = 0.085; // radius of the curl's middle line: 5 mm on a violin
constexpr double k_lower_curl = 0.10;
// In the curls a hole is this share of the slot's width half way.
constexpr double k_neck = 0.55;
constexpr double k_line_step_mm = 0.75; // between points of the line, on a hole 60 mm high
constexpr double k_smooth_mm = 0.03;

/// The middle line of the right hole from eye to eye, and how wide the hole is along it.
struct MiddleLine {
    std::vector<Point> points;
    std::vector<double> half_width_mm;
};

/// Up from the upper eye, over the curl outwards, down the stem, and through the curl below up into
/// the lower eye.
std::vector<Point> middle_points(const FHole& hole, double upper_curl_mm, double lower_curl_mm,
                                 double step_mm) {
    const auto arc = [step_mm](std::vector<Point>& line, Point middle, double radius_mm,
                               double from, double to) {
        const int steps = std::max(8, static_cast<int>(std::abs(to - from) * radius_mm / step_mm));
        for (int k = 0; k < steps; ++k) {
            const double angle = std::lerp(from, to, static_cast<double>(k) / steps);
            line.push_back({middle.x_mm + radius_mm * std::cos(angle),
                            middle.y_mm + radius_mm * std::sin(angle)});
        }
    };
    using std::numbers::pi;
    const double top_x = hole.upper.x_mm + 2.0 * upper_curl_mm;
    const double foot_x = hole.lower.x_mm - 2.0 * lower_curl_mm;
    std::vector<Point> line;
    arc(line, {hole.upper.x_mm + upper_curl_mm, hole.upper.y_mm}, upper_curl_mm, pi, 0.0);
    const double height = hole.upper.y_mm - hole.lower.y_mm;
    const int steps = std::max(8, static_cast<int>(height / step_mm));
    for (int k = 0; k < steps; ++k) {
        const double t = static_cast<double>(k) / steps;
        const double s = t * t * (3.0 - 2.0 * t); // ends along the plate
        line.push_back({std::lerp(top_x, foot_x, s), hole.upper.y_mm - t * height});
    }
    arc(line, {foot_x + lower_curl_mm, hole.lower.y_mm}, lower_curl_mm, pi, 2.0 * pi);
    line.push_back(hole.lower);
    return line;
}

MiddleLine middle_line(const FHole& hole) {
    const double height = hole.upper.y_mm - hole.lower.y_mm;
    const double upper_curl = k_upper_curl * height, lower_curl = k_lower_curl * height;
    MiddleLine line{middle_points(hole, upper_curl, lower_curl, k_line_step_mm * height / 60.0),
                    {}};
    std::vector<double> along{0.0};
    for (std::size_t k = 1; k < line.points.size(); ++k)
        along.push_back(along.back() + std::hypot(line.points[k].x_mm - line.points[k - 1].x_mm,
                                                  line.points[k].y_mm - line.points[k - 1].y_mm));
    // Eyes and slot leave the tongue of wood between them, whatever is typed.
    const double slot = std::min(0.5 * hole.slot_mm, 0.5 * upper_curl);
    const double upper_eye = std::min(0.5 * hole.upper_eye_mm, 0.85 * upper_curl);
    const double lower_eye = std::min(0.5 * hole.lower_eye_mm, 0.85 * lower_curl);
    const auto eye = [](double radius, double from_its_middle) {
        return std::sqrt(std::max(0.0, radius * radius - from_its_middle * from_its_middle));
    };
    for (const double s : along) {
        const double wave = std::sin(std::numbers::pi * s / along.back());
        const double neck = slot * (k_neck + (1.0 - k_neck) * wave * wave);
        line.half_width_mm.push_back(
            std::max({neck, eye(upper_eye, s), eye(lower_eye, along.back() - s)}));
    }
    return line;
}

} // namespace

FHole usual_f_hole(const OutlineSize& size) {
    const double scale = size.length_mm / 355.0;
    const bool is_cello = size.length_mm > 600.0 && size.length_mm < 900.0;
    const double notches_y = (is_cello ? 0.47 : 0.45) * size.length_mm;
    const double grown = std::pow(scale, 0.85); // a cello's are 140 mm long, not 160
    FHole hole;
    hole.upper = {24.3 * scale, notches_y + 30.5 * grown};
    hole.lower = {0.49 * size.waist_mm, notches_y - 29.5 * grown};
    hole.slot_mm = 6.0 * std::sqrt(scale);
    hole.upper_eye_mm = 6.5 * grown;
    hole.lower_eye_mm = 8.5 * grown;
    return hole;
}

std::vector<Loop> f_hole_loops(const FHole& hole) {
    const MiddleLine line = middle_line(hole);
    const auto& points = line.points;
    Loop outer, inner; // on the left and on the right of who goes from the upper eye to the lower
    for (std::size_t k = 0; k < points.size(); ++k) {
        const Point p = points[k];
        const Point ahead = points[std::min(k + 1, points.size() - 1)];
        const Point behind = points[k == 0 ? 0 : k - 1];
        const double dx = ahead.x_mm - behind.x_mm, dy = ahead.y_mm - behind.y_mm;
        const double width = line.half_width_mm[k] / std::hypot(dx, dy);
        outer.push_back({p.x_mm - width * dy, p.y_mm + width * dx});
        inner.push_back({p.x_mm + width * dy, p.y_mm - width * dx});
    }
    const auto cap = [](Loop& loop, Point middle, double radius, double from_angle) {
        for (int k = 1; k < 8; ++k) {
            const double angle = from_angle + std::numbers::pi * k / 8.0;
            loop.push_back(
                {middle.x_mm + radius * std::cos(angle), middle.y_mm + radius * std::sin(angle)});
        }
    };
    // Counter-clockwise: up the outer side, round the upper eye, and back along the inner one.
    Loop right(outer.rbegin(), outer.rend());
    cap(right, hole.upper, line.half_width_mm.front(), std::numbers::pi);
    right.insert(right.end(), inner.begin(), inner.end());
    cap(right, hole.lower, line.half_width_mm.back(), 0.0);
    return f_hole_loops(std::vector<Loop>{points_at(right, thinned(right, k_smooth_mm))});
}

std::vector<Loop> f_hole_loops(std::vector<Loop> drawn) {
    if (drawn.size() == 1) {
        Loop left;
        for (auto p = drawn.front().rbegin(); p != drawn.front().rend(); ++p)
            left.push_back({-p->x_mm, p->y_mm});
        drawn.push_back(std::move(left));
    }
    return drawn;
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
