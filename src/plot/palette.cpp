#include "plot/palette.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

namespace platewright::plot {
namespace {

constexpr Colour rgb(unsigned hex) {
    return {static_cast<std::uint8_t>(hex >> 16U & 0xFFU),
            static_cast<std::uint8_t>(hex >> 8U & 0xFFU), static_cast<std::uint8_t>(hex & 0xFFU),
            255};
}

// Spruce shavings by day.
constexpr Palette k_light{
    .ground = rgb(0xF3EBDD),
    .panel = rgb(0xFFFCF6),
    .line = rgb(0xD9CBB3),
    .ink = rgb(0x2A1F14),
    .faint_ink = rgb(0x665644),
    .accent = rgb(0x7A3B12),
    .on_accent = rgb(0xFFF8EC),
    .mode_1 = rgb(0x0E3F78),
    .mode_2 = rgb(0xB0450A),
    .mode_5 = rgb(0x17745E),
    .other_mode = rgb(0x685C50),
    .now = rgb(0x2A1F14),
    .mean = rgb(0xA6701C),
    .ghost = rgb(0x9C8B75),
    .bad = rgb(0xF6D2C4),
    .on_bad = rgb(0x7E1F0A),
    .caution = rgb(0xF8E3A9),
    .on_caution = rgb(0x4D3500),
    .kept = rgb(0x000000),
    .on_kept = rgb(0x8FF5C6),
    .refused = rgb(0xE02A24),
    .on_refused = rgb(0xFFFFFF),
    .not_kept = rgb(0xFFFFD8),
    .on_not_kept = rgb(0x5A3A00),
};

// Varnish by lamplight.
constexpr Palette k_dark{
    .ground = rgb(0x1B1510),
    .panel = rgb(0x271F18),
    .line = rgb(0x4A3D30),
    .ink = rgb(0xF8EEDF),
    .faint_ink = rgb(0xBFAE98),
    .accent = rgb(0xE9A75A),
    .on_accent = rgb(0x231708),
    .mode_1 = rgb(0x6FA8F0),
    .mode_2 = rgb(0xF2903F),
    .mode_5 = rgb(0x8FF0C8),
    .other_mode = rgb(0xA6978A),
    .now = rgb(0xFFF6E6),
    .mean = rgb(0xE3B15C),
    .ghost = rgb(0x8A7A67),
    .bad = rgb(0x6A2413),
    .on_bad = rgb(0xFFDCCF),
    .caution = rgb(0x594312),
    .on_caution = rgb(0xFFEBB5),
    .kept = rgb(0xF2FFF6),
    .on_kept = rgb(0x005048),
    .refused = rgb(0xE02A24),
    .on_refused = rgb(0xFFFFFF),
    .not_kept = rgb(0x000000),
    .on_not_kept = rgb(0xFFC75A),
};

constexpr Palette on_white(Palette palette) {
    palette.ground = rgb(0xFFFFFF);
    palette.panel = rgb(0xFFFFFF);
    palette.line = rgb(0xD4CFC6);
    return palette;
}
constexpr Palette k_paper = on_white(k_light);

} // namespace

const Palette& light_palette() { return k_light; }
const Palette& dark_palette() { return k_dark; }
const Palette& paper_palette() { return k_paper; }

ModeLook mode_look(int name, const Palette& palette) {
    switch (name) { // of a closed body 101 is A0, 103 B1-, 104 B1+; no picture shows both
    case 1:
    case 101:
        return {palette.mode_1, Shape::disc};
    case 2:
    case 103:
        return {palette.mode_2, Shape::diamond};
    case 5:
    case 104:
        return {palette.mode_5, Shape::triangle};
    case 102: // CBR, on which little is steered by
        return {palette.other_mode, Shape::square};
    default:
        return {palette.other_mode, Shape::ring};
    }
}

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

} // namespace platewright::plot
