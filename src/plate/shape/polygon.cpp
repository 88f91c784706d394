#include "plate/shape/polygon.hpp"

#include "base/angle.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <stdexcept>

namespace platewright::plate {
namespace {

double length_of(Point a, Point b) { return std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm); }

bool sides_cross(Point a, Point b, Point c, Point d) {
    const double ab_c = twice_area_mm2(a, b, c);
    const double ab_d = twice_area_mm2(a, b, d);
    const double cd_a = twice_area_mm2(c, d, a);
    const double cd_b = twice_area_mm2(c, d, b);
    return ((ab_c > 0.0) != (ab_d > 0.0)) && ((cd_a > 0.0) != (cd_b > 0.0));
}

bool is_corner(std::span<const Point> loop, std::size_t i) {
    constexpr double k_corner_rad = base::in_rad(30.0);
    const std::size_t n = loop.size();
    const Point before = loop[(i + n - 1) % n];
    const Point at = loop[i];
    const Point after = loop[(i + 1) % n];
    const double turn = std::atan2(twice_area_mm2(before, at, after),
                                   (at.x_mm - before.x_mm) * (after.x_mm - at.x_mm) +
                                       (at.y_mm - before.y_mm) * (after.y_mm - at.y_mm));
    return std::abs(turn) >= k_corner_rad;
}

} // namespace

double signed_area_mm2(std::span<const Point> loop) {
    double twice = 0.0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Point a = loop[i];
        const Point b = loop[(i + 1) % loop.size()];
        twice += a.x_mm * b.y_mm - b.x_mm * a.y_mm;
    }
    return 0.5 * twice;
}

bool contains(std::span<const Point> loop, Point point) {
    bool inside = false;
    for (std::size_t i = 0, j = loop.size() - 1; i < loop.size(); j = i++) {
        const Point a = loop[i];
        const Point b = loop[j];
        if ((a.y_mm > point.y_mm) != (b.y_mm > point.y_mm) &&
            point.x_mm < (b.x_mm - a.x_mm) * (point.y_mm - a.y_mm) / (b.y_mm - a.y_mm) + a.x_mm) {
            inside = !inside;
        }
    }
    return inside;
}

double distance_mm(std::span<const Point> loop, Point point) {
    double nearest = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Point a = loop[i];
        const Point b = loop[(i + 1) % loop.size()];
        const double dx = b.x_mm - a.x_mm;
        const double dy = b.y_mm - a.y_mm;
        const double squared = dx * dx + dy * dy;
        const double along =
            squared > 0.0 ? ((point.x_mm - a.x_mm) * dx + (point.y_mm - a.y_mm) * dy) / squared
                          : 0.0;
        const double t = std::clamp(along, 0.0, 1.0);
        nearest = std::min(nearest, length_of(point, {a.x_mm + t * dx, a.y_mm + t * dy}));
    }
    return nearest;
}

std::vector<Point> spaced(std::span<const Point> line, double spacing_mm) {
    if (line.size() < 2 || !(spacing_mm > 0.0)) {
        throw std::invalid_argument("spaced: needs two points and a positive spacing");
    }
    double total = 0.0;
    for (std::size_t i = 1; i < line.size(); ++i) {
        total += length_of(line[i - 1], line[i]);
    }
    const int steps = std::max(1, static_cast<int>(std::lround(total / spacing_mm)));
    std::vector<Point> result{line.front()};
    double walked = 0.0;
    std::size_t side = 1;
    for (int k = 1; k < steps; ++k) {
        const double wanted = total * k / steps;
        while (side + 1 < line.size() && walked + length_of(line[side - 1], line[side]) < wanted) {
            walked += length_of(line[side - 1], line[side]);
            ++side;
        }
        const double t = (wanted - walked) / length_of(line[side - 1], line[side]);
        result.push_back({std::lerp(line[side - 1].x_mm, line[side].x_mm, t),
                          std::lerp(line[side - 1].y_mm, line[side].y_mm, t)});
    }
    result.push_back(line.back());
    return result;
}

Loop spaced_loop(std::span<const Point> loop, double spacing_mm) {
    if (loop.size() < 3) {
        throw std::invalid_argument("spaced_loop: needs three points");
    }
    std::size_t start = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        if (is_corner(loop, i)) {
            start = i;
            break;
        }
    }
    Loop result;
    std::vector<Point> piece{loop[start]};
    for (std::size_t k = 1; k <= loop.size(); ++k) {
        const std::size_t i = (start + k) % loop.size();
        piece.push_back(loop[i]);
        if (k == loop.size() || is_corner(loop, i)) {
            const auto points = spaced(piece, spacing_mm);
            result.insert(result.end(), points.begin(), points.end() - 1);
            piece.assign(1, loop[i]);
        }
    }
    return result;
}

std::vector<std::size_t> thinned(std::span<const Point> loop, double tolerance_mm) {
    const std::size_t n = loop.size();
    if (n < 3) {
        throw std::invalid_argument("thinned: needs three points");
    }
    const auto farthest =
        std::ranges::max_element(loop, {}, [&](Point p) { return length_of(loop.front(), p); });
    std::vector<bool> kept(n + 1, false);
    const auto half = static_cast<std::size_t>(farthest - loop.begin());
    kept[0] = kept[half] = kept[n] = true;
    std::vector<std::pair<std::size_t, std::size_t>> open{{0, half}, {half, n}}; // n is 0 again
    while (!open.empty()) {
        const auto [from, to] = open.back();
        open.pop_back();
        const std::array<Point, 2> chord{loop[from], loop[to % n]};
        double most = tolerance_mm;
        std::size_t at = from;
        for (std::size_t i = from + 1; i < to; ++i) {
            if (const double off = distance_mm(chord, loop[i]); off > most) {
                most = off;
                at = i;
            }
        }
        if (at != from) {
            kept[at] = true;
            open.emplace_back(from, at);
            open.emplace_back(at, to);
        }
    }
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < n; ++i) {
        if (kept[i]) {
            places.push_back(i);
        }
    }
    return places;
}

Loop points_at(std::span<const Point> loop, std::span<const std::size_t> places) {
    Loop points;
    for (const std::size_t place : places)
        points.push_back(loop[place]);
    return points;
}

Crossing find_crossing(std::span<const Point> loop) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j + 1 == n) {
                continue; // neighbours across the seam
            }
            if (sides_cross(loop[i], loop[i + 1], loop[j], loop[(j + 1) % n])) {
                return {static_cast<int>(i), static_cast<int>(j)};
            }
        }
    }
    return {};
}

} // namespace platewright::plate
