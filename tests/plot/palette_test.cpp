#include "plot/palette.hpp"
#include "support/catch.hpp"
#include "support/eyes.hpp"

#include <array>

using namespace platewright::plot;
using namespace platewright::test;

namespace {

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
        CHECK(contrast(p->on_bad, p->bad) >= 4.5);
        // What is beyond a goal looks no milder than what is at it (screen/bench/decision_strip).
        CHECK(contrast(p->on_bad, p->panel) >= contrast(p->accent, p->panel));
        CHECK(contrast(p->on_caution, p->caution) >= 4.5);
        CHECK(contrast(p->on_kept, p->kept) >= 4.5);
        CHECK(contrast(p->on_refused, p->refused) >= 4.5);
        CHECK(contrast(p->on_not_kept, p->not_kept) >= 4.5);
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
        for (const Matrix* eye : k_eyes) {
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

TEST_CASE("kept, refused and not kept are told from each other by luminance alone") {
    // What one of them is taken for costs a tap or a wrong mean. Three levels 4.5 apart need
    // 4.5 * 4.5 = 20.25, and black to white is 21: so black, a middle and white, and no fourth
    // level for the panel. It differs so from what is kept, by day from what is refused as well;
    // what is not kept lies by the panel, where slanted bars and a corner in its ink tell it.
    for (const Palette* p : {&light_palette(), &dark_palette()}) {
        CHECK(contrast(p->kept, p->refused) >= 4.5);
        CHECK(contrast(p->refused, p->not_kept) >= 4.5);
        CHECK(contrast(p->kept, p->not_kept) >= 4.5 * 4.5);
        CHECK(contrast(p->kept, p->panel) >= 4.5);
        CHECK(contrast(p->refused, p->panel) >= 3.0); // criterion 1.4.11, parts of graphics
        CHECK(contrast(p->on_not_kept, p->panel) >= 4.5);
    }
    CHECK(contrast(light_palette().refused, light_palette().panel) >= 4.5);
}

TEST_CASE("what stands on the answers differs in hue, for colour-blind readers too") {
    for (const Palette* p : {&light_palette(), &dark_palette()}) {
        for (const Matrix* eye : k_eyes) {
            CHECK(apart(*eye, p->refused, p->not_kept) > 20);
            CHECK(apart(*eye, p->refused, p->kept) > 20);
            CHECK(apart(*eye, p->refused, p->panel) > 20);
            CHECK(apart(*eye, p->on_kept, p->on_not_kept) > 20);
            CHECK(apart(*eye, p->on_kept, p->refused) > 20);
        }
    }
}

TEST_CASE("the answers keep their three levels for colour-blind readers and in grey") {
    // Grey is luminance alone, which contrast() compares. A missing cone shifts luminances a
    // little: 3 remains of 4.5 between neighbours.
    for (const Palette* p : {&light_palette(), &dark_palette()}) {
        for (const Matrix* eye : k_eyes) {
            const double dark = seen_luminance(*eye, p == &light_palette() ? p->kept : p->not_kept);
            const double middle = seen_luminance(*eye, p->refused);
            const double bright =
                seen_luminance(*eye, p == &light_palette() ? p->not_kept : p->kept);
            CAPTURE(dark, middle, bright);
            CHECK((middle + 0.05) / (dark + 0.05) >= 3.0);
            CHECK((bright + 0.05) / (middle + 0.05) >= 3.0);
        }
    }
}

TEST_CASE("the rising scale darkens evenly for every reader") {
    constexpr int steps = 8;
    for (const Matrix* eye : k_eyes) {
        double before = 200.0;
        for (int i = 0; i <= steps; ++i) {
            const Colour c = rising_shade(static_cast<double>(i) / steps);
            const double lightness = lab(times(*eye, linear(c)))[0];
            CHECK(lightness <
                  before - 5.0); // 2.3 is just noticed (M. Mahy et al., 1994, from memory)
            before = lightness;
        }
    }
    // even for the full eye: by construction each step is 75 / 8 of L*
    for (int i = 0; i < steps; ++i) {
        const double drop = lab(linear(rising_shade(static_cast<double>(i) / steps)))[0] -
                            lab(linear(rising_shade(static_cast<double>(i + 1) / steps)))[0];
        CHECK(drop == Approx(75.0 / steps).margin(1.5));
    }
}

TEST_CASE(
    "the signed scale is lightest at nothing, and its arms stay apart for colour-blind readers") {
    CHECK(contrast(signed_shade(0.0), {255, 255, 255, 255}) < 1.15);
    for (const Matrix* eye : k_eyes) {
        for (int i = 1; i <= 4; ++i) {
            const double share = i / 4.0;
            CHECK(apart(*eye, signed_shade(share), signed_shade(-share)) > 10.0 + 10.0 * share);
            CHECK(apart(*eye, signed_shade(share), signed_shade(share - 0.25)) > 8.0);
            CHECK(apart(*eye, signed_shade(-share), signed_shade(0.25 - share)) > 8.0);
        }
    }
}

TEST_CASE("shares beyond the ends take the ends' colours") {
    CHECK(rising_shade(-1.0) == rising_shade(0.0));
    CHECK(rising_shade(7.0) == rising_shade(1.0));
    CHECK(signed_shade(-3.0) == signed_shade(-1.0));
}
