#pragma once
/// How colours look to readers with and without all cones.

#include "plot/canvas.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::test {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>;

inline Triple times(const Matrix& m, const Triple& v) {
    Triple out{};
    for (std::size_t i = 0; i < 3; ++i) {
        out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    }
    return out;
}

inline Triple linear(plot::Colour c) {
    const auto one = [](std::uint8_t value) {
        const double s = value / 255.0;
        return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4); // IEC 61966-2-1
    };
    return {one(c.red), one(c.green), one(c.blue)};
}

/// Contrast of two solid colours, 1 (none) to 21 (black on white), by WCAG 2.1's definition.
inline double contrast(plot::Colour one, plot::Colour other) {
    const auto luminance = [](plot::Colour c) {
        const Triple rgb = linear(c);
        return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
    };
    const double a = luminance(one), b = luminance(other);
    return (std::max(a, b) + 0.05) / (std::min(a, b) + 0.05);
}

/// CIE 1976 L*a*b* for D65, from linear sRGB.
inline Triple lab(Triple rgb) {
    for (double& part : rgb) {
        part = std::clamp(part, 0.0, 1.0);
    }
    const Matrix to_xyz{
        {{0.4124, 0.3576, 0.1805}, {0.2126, 0.7152, 0.0722}, {0.0193, 0.1192, 0.9505}}};
    Triple xyz = times(to_xyz, rgb);
    const Triple white{0.9505, 1.0, 1.089};
    for (std::size_t i = 0; i < 3; ++i) {
        const double t = xyz[i] / white[i];
        xyz[i] = t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16.0 / 116.0;
    }
    return {116 * xyz[1] - 16, 500 * (xyz[0] - xyz[1]), 200 * (xyz[1] - xyz[2])};
}

inline double apart(const Matrix& eye, plot::Colour a, plot::Colour b) {
    const Triple p = lab(times(eye, linear(a)));
    const Triple q = lab(times(eye, linear(b)));
    return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

/// WCAG's relative luminance of a solid colour as an eye sees it.
inline double seen_luminance(const Matrix& eye, plot::Colour colour) {
    const Triple seen = times(eye, linear(colour));
    return 0.2126 * std::clamp(seen[0], 0.0, 1.0) + 0.7152 * std::clamp(seen[1], 0.0, 1.0) +
           0.0722 * std::clamp(seen[2], 0.0, 1.0);
}

// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation
// of Color Vision Deficiency", IEEE Trans. Visualization and Computer Graphics 15 (2009), table for
// severity 1.0; figures from memory.
inline constexpr Matrix k_without_red{{{0.152286, 1.052583, -0.204868},
                                       {0.114503, 0.786281, 0.099216},
                                       {-0.003882, -0.048116, 1.051998}}};
inline constexpr Matrix k_without_green{{{0.367322, 0.860646, -0.227968},
                                         {0.280085, 0.672501, 0.047413},
                                         {-0.011820, 0.042940, 0.968881}}};
inline constexpr Matrix k_without_blue{{{1.255528, -0.076749, -0.178779},
                                        {-0.078411, 0.930809, 0.147602},
                                        {0.004733, 0.691367, 0.303900}}};
inline constexpr Matrix k_full{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};

inline constexpr std::array<const Matrix*, 4> k_eyes{&k_full, &k_without_red, &k_without_green,
                                                     &k_without_blue};

} // namespace platewright::test
