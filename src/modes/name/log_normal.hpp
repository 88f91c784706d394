#pragma once
#include <algorithm>
#include <cmath>

namespace platewright::modes {

/// Logarithm of the normal density.
inline double log_normal(double x, double centre, double sd) {
    constexpr double log_root_2pi = 0.9189385332046727;
    const double z = (x - centre) / sd;
    return -0.5 * z * z - std::log(sd) - log_root_2pi;
}

/// The same with a share of 2 % four times as wide: one odd reading does not rule a name out.
inline double log_tailed(double x, double centre, double sd) {
    constexpr double tail = 0.02;
    const double wide = log_normal(x, centre, 4.0 * sd);
    const double narrow = log_normal(x, centre, sd);
    const double top = std::max(wide, narrow);
    return top + std::log((1.0 - tail) * std::exp(narrow - top) + tail * std::exp(wide - top));
}

/// log(p·e^a + (1−p)·e^b)
inline double log_mixture(double p, double a, double b) {
    const double top = std::max(a, b);
    return top + std::log(p * std::exp(a - top) + (1.0 - p) * std::exp(b - top));
}

/// Modes of whatever name to be met per e-fold of frequency: what a density of frequency is held
/// against.
inline constexpr double k_mode_density = 5.0;

} // namespace platewright::modes
