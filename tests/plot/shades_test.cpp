#include "plot/palette.hpp"
#include "support/catch.hpp"
#include "support/eyes.hpp"

using namespace platewright::plot;
using namespace platewright::test;

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
