#include "plot/plate/shades.hpp"

#include "plot/palette.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace platewright::plot {
namespace {

/// CIE 1976 L*a*b* for D65: even steps in L* look even.
struct Lab {
    double lightness = 0.0, a = 0.0, b = 0.0;
};

double from_linear(double value) { // IEC 61966-2-1
    const double v = std::clamp(value, 0.0, 1.0);
    return v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1.0 / 2.4) - 0.055;
}

std::uint8_t byte(double linear) {
    return static_cast<std::uint8_t>(std::lround(255.0 * from_linear(linear)));
}

Colour to_colour(const Lab& c) {
    const auto cube = [](double t) {
        return t > 6.0 / 29.0 ? t * t * t : 3.0 * 36.0 / 841.0 * (t - 4.0 / 29.0);
    };
    const double f = (c.lightness + 16.0) / 116.0;
    const double x = 0.9505 * cube(f + c.a / 500.0);
    const double y = cube(f);
    const double z = 1.089 * cube(f - c.b / 200.0);
    return {byte(3.2406 * x - 1.5372 * y - 0.4986 * z), byte(-0.9689 * x + 1.8758 * y + 0.0415 * z),
            byte(0.0557 * x - 0.2040 * y + 1.0570 * z), 255};
}

Lab mixed(std::span<const Lab> stops, double share) {
    const double place = std::clamp(share, 0.0, 1.0) * static_cast<double>(stops.size() - 1);
    const auto first = std::min(static_cast<std::size_t>(place), stops.size() - 2);
    const double t = place - static_cast<double>(first);
    const Lab &p = stops[first], &q = stops[first + 1];
    return {p.lightness + t * (q.lightness - p.lightness), p.a + t * (q.a - p.a),
            p.b + t * (q.b - p.b)};
}

// Lightness falls by even steps from stop to stop; a and b are chosen to stay within sRGB.
constexpr std::array<Lab, 5> k_rising{{
    {95.0, 0.0, 22.0},
    {76.25, 14.0, 46.0},
    {57.5, 32.0, 42.0},
    {38.75, 34.0, 26.0},
    {20.0, 20.0, 8.0},
}};
constexpr std::array<Lab, 3> k_below{{{96.0, 0.0, 1.0}, {64.0, -8.0, -32.0}, {32.0, 6.0, -42.0}}};
constexpr std::array<Lab, 3> k_above{{{96.0, 0.0, 1.0}, {64.0, 30.0, 40.0}, {32.0, 38.0, 36.0}}};

} // namespace

Colour rising_shade(double share) { return to_colour(mixed(k_rising, share)); }

Colour signed_shade(double share) {
    return to_colour(share < 0.0 ? mixed(k_below, -share) : mixed(k_above, share));
}

Colour ink_on(Colour ground) {
    const Colour black{0, 0, 0, 255};
    const Colour white{255, 255, 255, 255};
    return contrast(black, ground) >= contrast(white, ground) ? black : white;
}

} // namespace platewright::plot
