#include "plate/arching.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr double k_step_mm = 1.0;
constexpr double k_smoothing = 0.04; // of the length: standard deviation of the width's smoothing

// (1 - |t|^p)^2 inside, 0 outside: flat on top, level with zero slope at the edge.
double bump(double t, double fullness) {
    const double a = std::abs(t);
    if (a >= 1.0)
        return 0.0;
    const double rest = 1.0 - std::pow(a, fullness);
    return rest * rest;
}

// The value of an evenly spaced table, by cubic interpolation (Catmull-Rom).
double look_up(const std::vector<double>& table, double at) {
    const double last = static_cast<double>(table.size() - 1);
    const double place = std::clamp(at / k_step_mm, 0.0, last);
    const auto i = std::min(static_cast<std::size_t>(place), table.size() - 2);
    const double t = place - static_cast<double>(i);
    const double a = table[i > 0 ? i - 1 : 0], b = table[i], c = table[i + 1],
                 d = table[std::min(i + 2, table.size() - 1)];
    return b +
           0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)));
}

} // namespace

Arching::Arching(const Outline& outline, const ArchingProfile& profile,
                 std::span<const HeightReading> readings)
    : profile_(profile), length_mm_(outline.size.length_mm) {
    const int count = static_cast<int>(std::ceil(length_mm_ / k_step_mm)) + 1;
    const double sd = k_smoothing * length_mm_ / k_step_mm;
    const int reach = static_cast<int>(std::ceil(4.0 * sd));
    std::vector<double> left, right; // beyond the ends the width is nothing
    for (int k = -reach; k < count + reach; ++k) {
        const auto e = outline.extent(k * k_step_mm);
        left.push_back(e.left_mm);
        right.push_back(e.right_mm);
    }
    for (int k = 0; k < count; ++k) {
        double l = 0.0, r = 0.0, total = 0.0;
        for (int j = -reach; j <= reach; ++j) {
            const double weight = std::exp(-0.5 * j * j / (sd * sd));
            const auto at = static_cast<std::size_t>(k + j + reach);
            l += weight * left[at];
            r += weight * right[at];
            total += weight;
        }
        middle_mm_.push_back(0.5 * (l + r) / total);
        half_mm_.push_back(0.5 * (r - l) / total);
    }
    if (readings.empty())
        return;
    std::vector<FieldReading> rest;
    for (const auto& reading : readings)
        rest.push_back({reading.at, reading.height_mm - profile_height(reading.at)});
    // heights are read to a tenth or two; what a profile misses bends over some centimetres
    difference_ = std::make_shared<SmoothField>(
        rest, FieldPrior{.mean = 0.0, .sd = 1.5, .reach_mm = 0.17 * length_mm_, .noise_sd = 0.15});
}

double Arching::profile_height(Point p) const {
    const double half = look_up(half_mm_, p.y_mm);
    const double t = 2.0 * p.y_mm / length_mm_ - 1.0;
    const double s = half > 1e-6 ? (p.x_mm - look_up(middle_mm_, p.y_mm)) / half : 2.0;
    return profile_.edge_mm + (profile_.arch_mm - profile_.edge_mm) *
                                  bump(t, profile_.long_fullness) *
                                  bump(s, profile_.cross_fullness);
}

double Arching::height_mm(Point p) const {
    return profile_height(p) + (difference_ ? difference_->value(p) : 0.0);
}

double Arching::normal_z(Point p) const {
    constexpr double step_mm = 0.25;
    const double slope_x =
        (height_mm({p.x_mm + step_mm, p.y_mm}) - height_mm({p.x_mm - step_mm, p.y_mm})) /
        (2.0 * step_mm);
    const double slope_y =
        (height_mm({p.x_mm, p.y_mm + step_mm}) - height_mm({p.x_mm, p.y_mm - step_mm})) /
        (2.0 * step_mm);
    return 1.0 / std::sqrt(1.0 + slope_x * slope_x + slope_y * slope_y);
}

} // namespace platewright::plate
