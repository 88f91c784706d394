#include "plate/shape/outline.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace platewright::plate {
namespace {

using wording::figure;
using wording::say;

constexpr int k_steps_an_arc = 24;

// Heights of the three widths and the corners, in parts of the length; our own choice.
constexpr double k_lower = 0.205, k_low_corner = 0.385, k_waist = 0.52, k_high_corner = 0.655,
                 k_upper = 0.815;
// How far the corners stand out from the waist towards the bouts.
constexpr double k_corner_reach = 0.78;

Point at(const std::array<Point, 4>& arc, double t) {
    const double s = 1.0 - t;
    const std::array<double, 4> weight{s * s * s, 3.0 * s * s * t, 3.0 * s * t * t, t * t * t};
    Point p{};
    for (std::size_t k = 0; k < 4; ++k) {
        p.x_mm += weight[k] * arc[k].x_mm;
        p.y_mm += weight[k] * arc[k].y_mm;
    }
    return p;
}

std::array<std::array<Point, 4>, 6> right_side(const OutlineSize& size) {
    const double length = size.length_mm;
    const double upper = 0.5 * size.upper_mm, waist = 0.5 * size.waist_mm,
                 lower = 0.5 * size.lower_mm;
    const auto p = [&](double x_mm, double part) { return Point{x_mm, part * length}; };
    const double low_x = waist + k_corner_reach * (lower - waist);
    const double high_x = waist + k_corner_reach * (upper - waist);
    const Point foot = p(0.0, 0.0), head = p(0.0, 1.0);
    const Point widest = p(lower, k_lower), narrowest = p(waist, k_waist),
                upper_widest = p(upper, k_upper);
    const Point low_corner = p(low_x, k_low_corner), high_corner = p(high_x, k_high_corner);
    return {
        {{foot, p(0.60 * lower, 0.0), p(lower, 0.44 * k_lower), widest},
         {widest, p(lower, k_lower + 0.095), p(low_x - 0.005 * length, k_low_corner - 0.05),
          low_corner},
         {low_corner, p(low_x - 0.055 * length, k_low_corner + 0.012), p(waist, k_waist - 0.060),
          narrowest},
         {narrowest, p(waist, k_waist + 0.055), p(high_x - 0.045 * length, k_high_corner - 0.010),
          high_corner},
         {high_corner, p(high_x - 0.003 * length, k_high_corner + 0.045), p(upper, k_upper - 0.085),
          upper_widest},
         {upper_widest, p(upper, k_upper + 0.56 * (1.0 - k_upper)), p(0.60 * upper, 1.0), head}}};
}

// Finds the three widths of an outline on its points.
void measure(Outline& outline) {
    const double length = outline.size.length_mm;
    const auto width = [&](double y) {
        const auto e = outline.extent(y);
        return e.right_mm - e.left_mm;
    };
    const auto search = [&](double from, double to, double sign) {
        double best_y = from * length;
        for (int k = 0; k <= 200; ++k) {
            const double y = length * std::lerp(from, to, k / 200.0);
            if (sign * width(y) > sign * width(best_y))
                best_y = y;
        }
        return best_y;
    };
    outline.lower_y_mm = search(0.05, 0.45, 1.0);
    outline.waist_y_mm = search(0.40, 0.68, -1.0);
    outline.upper_y_mm = search(0.62, 0.95, 1.0);
    outline.size.lower_mm = width(outline.lower_y_mm);
    outline.size.waist_mm = width(outline.waist_y_mm);
    outline.size.upper_mm = width(outline.upper_y_mm);
}

} // namespace

OutlineSize usual_size(modes::InstrumentKind kind) {
    switch (kind) {
    case modes::InstrumentKind::viola:
        return {410.0, 190.0, 130.0, 242.0};
    case modes::InstrumentKind::cello:
        return {755.0, 340.0, 230.0, 438.0};
    case modes::InstrumentKind::double_bass:
        return {1110.0, 505.0, 365.0, 660.0};
    case modes::InstrumentKind::violin:
    case modes::InstrumentKind::other:
        break;
    }
    return {355.0, 167.0, 110.0, 207.0};
}

Outline::Extent Outline::extent(double y_mm) const {
    Extent e{1e9, -1e9};
    for (std::size_t i = 0; i < rim.size(); ++i) {
        const Point a = rim[i], b = rim[(i + 1) % rim.size()];
        if ((a.y_mm > y_mm) == (b.y_mm > y_mm))
            continue;
        const double x = a.x_mm + (b.x_mm - a.x_mm) * (y_mm - a.y_mm) / (b.y_mm - a.y_mm);
        e.left_mm = std::min(e.left_mm, x);
        e.right_mm = std::max(e.right_mm, x);
    }
    return e.left_mm < e.right_mm ? e : Extent{};
}

base::Result<Outline> make_outline(const OutlineSize& size) {
    const auto none = [](double value) { return !(value > 0.0) || !std::isfinite(value); };
    if (none(size.length_mm))
        return base::Fault{say("The length of the outline ({} mm) must be more than nothing.",
                               figure(size.length_mm, 1))};
    if (none(size.upper_mm))
        return base::Fault{say("The upper width of the outline ({} mm) must be more than nothing.",
                               figure(size.upper_mm, 1))};
    if (none(size.waist_mm))
        return base::Fault{say("The waist width of the outline ({} mm) must be more than nothing.",
                               figure(size.waist_mm, 1))};
    if (none(size.lower_mm))
        return base::Fault{say("The lower width of the outline ({} mm) must be more than nothing.",
                               figure(size.lower_mm, 1))};
    if (size.waist_mm >= std::min(size.upper_mm, size.lower_mm))
        return base::Fault{
            say("The waist ({} mm) must be narrower than both bouts.", figure(size.waist_mm, 1))};
    if (std::max(size.upper_mm, size.lower_mm) >= size.length_mm)
        return base::Fault{
            say("A bout is wider than the plate is long ({} mm): were the measures exchanged?",
                figure(size.length_mm, 1))};
    Outline outline;
    outline.size = size;
    outline.lower_y_mm = k_lower * size.length_mm;
    outline.waist_y_mm = k_waist * size.length_mm;
    outline.upper_y_mm = k_upper * size.length_mm;
    for (const auto& arc : right_side(size))
        for (int k = 0; k < k_steps_an_arc; ++k)
            outline.rim.push_back(at(arc, static_cast<double>(k) / k_steps_an_arc));
    outline.rim.push_back({0.0, size.length_mm});
    for (std::size_t k = outline.rim.size() - 2; k > 0; --k)
        outline.rim.push_back({-outline.rim[k].x_mm, outline.rim[k].y_mm});
    return outline;
}

std::vector<std::size_t> places_enough(const Loop& points) {
    constexpr std::size_t k_many = 1000, k_most = 4000;
    std::vector<std::size_t> places(points.size());
    std::iota(places.begin(), places.end(), std::size_t{0});
    if (points.size() <= k_many)
        return places;
    // A thirtieth of a millimetre is a pencil line's sharp edge; a ragged scan is taken more
    // coarsely.
    for (double tolerance_mm = 0.03; tolerance_mm < 1.0; tolerance_mm *= 2.0) {
        places = thinned(points, tolerance_mm);
        if (places.size() <= k_most)
            break;
    }
    return places;
}

base::Result<Outline> outline_from_points(std::vector<Point> points) {
    if (!points.empty() && points.size() > 1 &&
        std::hypot(points.front().x_mm - points.back().x_mm,
                   points.front().y_mm - points.back().y_mm) < 1e-6)
        points.pop_back();
    if (points.size() < 8)
        return base::Fault{say("An outline needs at least 8 points round the plate; there are {}.",
                               points.size())};
    const std::vector<std::size_t> places = places_enough(points);
    points = points_at(points, places);
    if (const auto crossing = find_crossing(points)) {
        const auto first = static_cast<std::size_t>(crossing.first),
                   second = static_cast<std::size_t>(crossing.second);
        const auto p = points[first], q = points[second];
        return base::Fault{
            say("The outline crosses itself: the side from point {} ({}, {}) cuts the side from "
                "point {} "
                "({}, {}). Give the points in the order in which they follow each other.",
                places[first] + 1, figure(p.x_mm, 1), figure(p.y_mm, 1), places[second] + 1,
                figure(q.x_mm, 1), figure(q.y_mm, 1))};
    }
    if (signed_area_mm2(points) < 0.0)
        std::reverse(points.begin(), points.end());
    const auto [low, high] = std::minmax_element(points.begin(), points.end(),
                                                 [](Point a, Point b) { return a.y_mm < b.y_mm; });
    const double low_y = low->y_mm;
    Outline outline;
    outline.size.length_mm = high->y_mm - low_y;
    if (outline.size.length_mm < k_shortest_mm || outline.size.length_mm > k_longest_mm)
        return base::Fault{say("The outline is {} mm long; plates from 100 mm to 1400 mm are "
                               "understood. Are the points "
                               "in mm?",
                               figure(outline.size.length_mm, 2))};
    for (auto& p : points)
        p.y_mm -= low_y;
    outline.rim = std::move(points);
    measure(outline);
    const auto widest = outline.extent(outline.lower_y_mm);
    const double middle = 0.5 * (widest.left_mm + widest.right_mm);
    for (auto& p : outline.rim)
        p.x_mm -= middle;
    outline.moved = {-middle, -low_y};
    // Of a violin's length squared it is 0.4; a sliver may be measured as having no width at all.
    const double length_mm = outline.size.length_mm;
    const double least_mm2 = length_mm * std::max(0.2 * outline.size.lower_mm, 0.05 * length_mm);
    if (!(outline.area_mm2() >= least_mm2))
        return base::Fault{say("The outline encloses next to nothing: are points missing?")};
    return outline;
}

} // namespace platewright::plate
