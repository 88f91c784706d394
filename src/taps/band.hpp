#pragma once
#include <cmath>
#include <numbers>

namespace platewright::taps {

/// Second-order section, direct form II transposed. Coefficients by the bilinear transform of the
/// second-order Butterworth prototype (any text on digital filters). RT.
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
        first_ = b1_ * x - a1_ * y + second_;
        second_ = b2_ * x - a2_ * y;
        return y;
    }

private:
    Biquad(double b0, double b1, double b2, double k, double norm)
        : b0_(b0), b1_(b1), b2_(b2), a1_(2 * (k * k - 1) * norm),
          a2_((1 - std::numbers::sqrt2 * k + k * k) * norm) {}
    static double prewarped(double corner_hz, double sample_rate_hz) {
        return std::tan(std::numbers::pi * std::fmin(corner_hz / sample_rate_hz, 0.49));
    }
    double b0_, b1_, b2_, a1_, a2_;
    double first_ = 0, second_ = 0;
};

/// The band in which strikes are looked for: high-pass and low-pass, second order each. Its delay in
/// the band is a few samples at 48 kHz, well under the promised accuracy of an onset.
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
