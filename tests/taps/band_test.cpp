#include "support/catch.hpp"
#include "taps/band.hpp"

#include <complex>
#include <numbers>

using platewright::taps::Biquad;

namespace {

constexpr double k_band_rate_hz = 48000;

/// Size of the answer at a frequency: the Fourier sum of the answer to a unit impulse.
double size_at(Biquad filter, double frequency_hz) {
    std::complex<double> sum;
    for (int n = 0; n < 48000; ++n)
        sum += filter(n == 0 ? 1.0 : 0.0) *
               std::polar(1.0, -2 * std::numbers::pi * frequency_hz / k_band_rate_hz * n);
    return std::abs(sum);
}

} // namespace

// Butterworth's magnitude, 1/√(1 + (Ω/Ωc)^4) for the second order, at Ω = tan(πf/fs) by the
// bilinear transform (any text on digital filters, for instance Oppenheim and Schafer; from
// memory).
TEST_CASE("the band's filters have Butterworth's magnitude") {
    const auto warped = [](double hz) { return std::tan(std::numbers::pi * hz / k_band_rate_hz); };
    for (const double corner_hz : {40.0, 2500.0, 12000.0}) {
        for (const double hz : {30.0, 100.0, 1000.0, 2500.0, 9000.0, 20000.0}) {
            const double ratio = warped(hz) / warped(corner_hz);
            CHECK(size_at(Biquad::low_pass(corner_hz, k_band_rate_hz), hz) ==
                  Approx(1 / std::sqrt(1 + std::pow(ratio, 4))).margin(1e-9));
            CHECK(size_at(Biquad::high_pass(corner_hz, k_band_rate_hz), hz) ==
                  Approx(1 / std::sqrt(1 + std::pow(ratio, -4))).margin(1e-9));
        }
    }
}
