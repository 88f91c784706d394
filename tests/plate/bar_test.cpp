#include "plate/wood/bar.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <numbers>
#include <stdexcept>

using namespace platewright::plate;

// ASTM E1876-22, flexure (formula from memory; example computed for trade-sources section 3):
// L 400, b 40, t 10 mm, 430 kg/m^3, so 68.8 g; 350 Hz, Poisson .37: T1 1.00468, E 12.823 GPa.
TEST_CASE("the standard's worked relation holds both ways") {
    const Bar bar{400.0, 40.0, 10.0, 68.8};
    CHECK(e1876_correction(10.0 / 400.0, 0.37) == Approx(1.00468).epsilon(1e-5));
    CHECK(e1876_modulus_gpa(bar, 350.0, 0.37) == Approx(12.823).epsilon(1e-4));
    CHECK(e1876_frequency_hz(bar, 12.823, 0.37) == Approx(350.0).epsilon(1e-4));
    for (const double hz : {90.0, 350.0, 1200.0})
        CHECK(e1876_frequency_hz(bar, e1876_modulus_gpa(bar, hz, 0.3), 0.3) ==
              Approx(hz).epsilon(1e-12));
}

// The same standard, for bars of L/t >= 20: T1 = 1 + 6.585 (t/L)^2 (from memory).
TEST_CASE("for slender bars the standard's full correction is near its short one") {
    for (const double ratio : {20.0, 40.0, 80.0})
        CHECK(e1876_correction(1.0 / ratio, 0.0) ==
              Approx(1.0 + 6.585 / (ratio * ratio)).epsilon(1e-4));
}

TEST_CASE("a slender bar's modulus is the closed form's") {
    // f = 22.3733 / 2 pi * t / L^2 * sqrt(E / 12 rho): the free bar of Bernoulli and Euler.
    const double hz =
        22.3733 / (2.0 * std::numbers::pi) * 1e-3 / (0.4 * 0.4) * std::sqrt(12e9 / 12.0 / 400.0);
    const Bar bar{400.0, 20.0, 1.0, 400e-6 * 400.0 * 20.0 * 1.0};
    CHECK(e1876_modulus_gpa(bar, hz, 0.3) == Approx(12.0).epsilon(1e-3));
    CHECK(wood_bar_modulus_gpa(bar, hz, 15.0) == Approx(12.0).epsilon(1e-3));
}

TEST_CASE("wood's correction is the standard's where E and G are an isotropic body's") {
    for (const double ratio : {20.0, 40.0})
        CHECK(wood_bar_correction(1.0 / ratio, 2.0) ==
              Approx(e1876_correction(1.0 / ratio, 0.0)).epsilon(2e-4));
    CHECK(wood_bar_correction(1.0 / 20.0, 16.0) > 1.04); // what the standard would leave out
    const Bar bar{300.0, 20.0, 10.0, 25.0};
    CHECK(wood_bar_frequency_hz(bar, wood_bar_modulus_gpa(bar, 600.0, 16.0), 16.0) ==
          Approx(600.0).epsilon(1e-12));
}

TEST_CASE("a bar without mass or measures is refused") {
    CHECK_THROWS_AS(e1876_modulus_gpa({400.0, 40.0, 10.0, 0.0}, 350.0, 0.3), std::invalid_argument);
    CHECK_THROWS_AS(wood_bar_frequency_hz({0.0, 40.0, 10.0, 60.0}, 12.0, 15.0),
                    std::invalid_argument);
}
