#pragma once
#include <cmath>
#include <numbers>

namespace platewright::taps {

/// Second-order section, direct form II transposed, with its output put into its two states'
/// equations: a state then waits for one product and one sum, not for three operations.
/// Coefficients by the bilinear transform of the second-order Butterworth prototype (any text on
/// digital filters). RT.
class Biquad {
public:
    static Biquad low_pass(double corner_hz, double sample_rate_hz) {
        const double k = prewarped(corner_hz, sample_rate_hz);
        const double norm = 1 / (1 + std::numbers::sqrt2 * k + k * k);
        return {k * k * norm, 2 * k * k * norm, k * k * norm, k, norm};
    }
    static Biquad high_pass(double corner_hz, double sample_rate_hz) {
        const double k = prewarped(corner_hz, sample_rate_hz);
        const double norm = 1 / (1 + std::numbers::sqrt2 * k + k * k);
        return {norm, -2 * norm, norm, k, norm};
    }
    double operator()(double x) {
        const double y = b0_ * x + first_;
        const double first = first_;
        first_ = (x_to_first_ * x + second_) - a1_ * first;
        second_ = x_to_second_ * x - a2_ * first;
        return y;
    }

private:
    Biquad(double b0, double b1, double b2, double k, double norm)
        : b0_(b0), a1_(2 * (k * k - 1) * norm), a2_((1 - std::numbers::sqrt2 * k + k * k) * norm),
          x_to_first_(b1 - a1_ * b0), x_to_second_(b2 - a2_ * b0) {}
    static double prewarped(double corner_hz, double sample_rate_hz) {
        return std::tan(std::numbers::pi * std::fmin(corner_hz / sample_rate_hz, 0.49));
    }
    double b0_, a1_, a2_, x_to_first_, x_to_second_;
    double first_ = 0, second_ = 0;
};

/// The band in which strikes are looked for: high-pass and low-pass, second order each. Its delay
/// in the band is a few samples at 48 kHz, well under the promised accuracy of an onset.
class Band {
public:
    Band(double low_hz, double high_hz, double sample_rate_hz)
        : low_(Biquad::high_pass(low_hz, sample_rate_hz)),
          high_(Biquad::low_pass(high_hz, sample_rate_hz)) {}
    float operator()(float x) {
        // The tiny offset keeps the recursion out of denormal numbers in digital silence.
        return static_cast<float>(high_(low_(static_cast<double>(x) + 1e-20)));
    }

private:
    Biquad low_, high_;
};

} // namespace platewright::taps
