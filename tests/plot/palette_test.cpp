#include "plot/palette.hpp"
#include "support/catch.hpp"

#include <array>
#include <cmath>

using namespace platewright::plot;

namespace {

using Triple = std::array<double, 3>;
using Matrix = std::array<Triple, 3>;

Triple times(const Matrix& m, const Triple& v) {
    Triple out{};
    for (std::size_t i = 0; i < 3; ++i) {
        out[i] = m[i][0] * v[0] + m[i][1] * v[1] + m[i][2] * v[2];
    }
    return out;
}

Triple linear(Colour c) {
    const auto one = [](std::uint8_t value) {
        const double s = value / 255.0;
        return s <= 0.04045 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4); // IEC 61966-2-1
    };
    return {one(c.red), one(c.green), one(c.blue)};
}

/// CIE 1976 L*a*b* for D65, from linear sRGB.
Triple lab(Triple rgb) {
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

double apart(const Matrix& eye, Colour a, Colour b) {
    const Triple p = lab(times(eye, linear(a)));
    const Triple q = lab(times(eye, linear(b)));
    return std::hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

// G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A Physiologically-based Model for Simulation
// of Color Vision Deficiency", IEEE Trans. Visualization and Computer Graphics 15 (2009), table for
// severity 1.0; figures from memory.
constexpr Matrix k_without_red{{{0.152286, 1.052583, -0.204868},
                                {0.114503, 0.786281, 0.099216},
                                {-0.003882, -0.048116, 1.051998}}};
constexpr Matrix k_without_green{{{0.367322, 0.860646, -0.227968},
                                  {0.280085, 0.672501, 0.047413},
                                  {-0.011820, 0.042940, 0.968881}}};
constexpr Matrix k_without_blue{{{1.255528, -0.076749, -0.178779},
                                 {-0.078411, 0.930809, 0.147602},
                                 {0.004733, 0.691367, 0.303900}}};
constexpr Matrix k_full{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};

const std::array<const Palette*, 3> k_palettes{&light_palette(), &dark_palette(), &paper_palette()};

} // namespace

TEST_CASE("contrast follows the definition of WCAG 2.1") {
    CHECK(contrast({0, 0, 0, 255}, {255, 255, 255, 255}) == Approx(21.0));
    // #767676 on white is the customary lightest grey that passes AA: 4.54 : 1.
    CHECK(contrast({0x76, 0x76, 0x76, 255}, {255, 255, 255, 255}) == Approx(4.54).epsilon(0.002));
}

TEST_CASE("everything written stands out from its ground by 4.5 to 1") {
    for (const Palette* p : k_palettes) {
        for (const Colour ground : {p->ground, p->panel}) {
            for (const Colour ink : {p->ink, p->faint_ink, p->mode_1, p->mode_2, p->mode_5,
                                     p->other_mode, p->now, p->accent}) {
                CHECK(contrast(ink, ground) >= 4.5);
            }
        }
        CHECK(contrast(p->on_accent, p->accent) >= 4.5);
        CHECK(contrast(p->on_good, p->good) >= 4.5);
        CHECK(contrast(p->on_bad, p->bad) >= 4.5);
        CHECK(contrast(p->on_caution, p->caution) >= 4.5);
    }
}

TEST_CASE("lines that carry data stand out from their ground by 3 to 1") {
    for (const Palette* p : k_palettes) {
        CHECK(contrast(p->mean, p->panel) >= 3.0);
        CHECK(contrast(p->ghost, p->panel) >= 3.0);
    }
}

TEST_CASE("the colours of the modes stay apart for colour-blind readers") {
    for (const Palette* p : k_palettes) {
        for (const Matrix* eye : {&k_full, &k_without_red, &k_without_green, &k_without_blue}) {
            // 20 in CIE 1976 L*a*b* is many times what is just noticed side by side (about 2.3).
            CHECK(apart(*eye, p->mode_1, p->mode_2) > 20);
            CHECK(apart(*eye, p->mode_1, p->mode_5) > 20);
            CHECK(apart(*eye, p->mode_2, p->mode_5) > 20);
        }
    }
}

TEST_CASE("named modes differ in shape as well as in colour") {
    const Palette& p = light_palette();
    CHECK(mode_look(1, p).shape != mode_look(2, p).shape);
    CHECK(mode_look(2, p).shape != mode_look(5, p).shape);
    CHECK(mode_look(1, p).shape != mode_look(5, p).shape);
    CHECK(mode_look(3, p).shape == mode_look(0, p).shape);
}
