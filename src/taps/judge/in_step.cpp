#include "taps/judge/in_step.hpp"

#include "base/turning.hpp"
#include "taps/band.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

namespace platewright::taps {
namespace {

using Complex = std::complex<double>;

// An octave lies between an eighth and a quarter of its sample rate; all its figures follow.
constexpr double k_centre = 3.0 / 16, k_half_width = 1.0 / 16; // of the sample rate
constexpr std::size_t k_keep_every = 6; // of the samples, once shifted to 0 Hz
constexpr std::size_t k_lag = 7;        // of those kept: eight cycles of the centre
constexpr std::size_t k_order = 6;      // modes an octave can hold and be foreseen

class LowPass {
public:
    explicit LowPass(double corner) : first_(Biquad::low_pass(corner, 1)), second_(first_) {}
    double operator()(double x) { return second_(first_(x)); }

private:
    Biquad first_, second_;
};

/// The octave shifted to 0 Hz, every k_keep_every-th sample.
std::vector<Complex> octave_of(std::span<const double> sound) {
    LowPass real(k_half_width), imaginary(k_half_width);
    base::Turning turning(0, -2 * std::numbers::pi * k_centre);
    std::vector<Complex> kept;
    kept.reserve(sound.size() / k_keep_every + 1);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const Complex phase = turning.next();
        const Complex x{real(sound[n] * phase.real()), imaginary(sound[n] * phase.imag())};
        if (n % k_keep_every == 0)
            kept.push_back(x);
    }
    return kept;
}

std::vector<double> at_half_rate(std::span<const double> sound) {
    LowPass half(0.2);
    std::vector<double> halved;
    halved.reserve(sound.size() / 2 + 1);
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double x = half(sound[n]);
        if (n % 2 == 0)
            halved.push_back(x);
    }
    return halved;
}

double complex_energy(std::span<const Complex> x) {
    double sum = 0;
    for (const Complex& value : x)
        sum += std::norm(value);
    return sum;
}

constexpr std::size_t k_past = k_lag + k_order - 1; // samples before the first that can be foreseen

/// Energy of x[k_past…) that the best predictor leaves over: the normal equations, a little ridged,
/// by Cholesky.
double left_over(std::span<const Complex> x) {
    std::array<std::array<Complex, k_order>, k_order> a{};
    std::array<Complex, k_order> b{};
    double left = 0, ridge = 1e-30;
    for (std::size_t n = k_past; n < x.size(); ++n) {
        left += std::norm(x[n]);
        for (std::size_t i = 0; i < k_order; ++i) {
            const Complex before = std::conj(x[n - k_lag - i]);
            b[i] += before * x[n];
            for (std::size_t j = 0; j <= i; ++j)
                a[i][j] += before * x[n - k_lag - j];
        }
    }
    for (std::size_t i = 0; i < k_order; ++i)
        ridge += 1e-3 * a[i][i].real() / k_order;
    for (std::size_t i = 0; i < k_order; ++i) {
        a[i][i] += ridge;
        for (std::size_t j = 0; j <= i; ++j) {
            Complex sum = a[i][j];
            for (std::size_t k = 0; k < j; ++k)
                sum -= a[i][k] * std::conj(a[j][k]);
            a[i][j] =
                i == j ? Complex{std::sqrt(std::max(sum.real(), 1e-30))} : sum / a[j][j].real();
        }
        for (std::size_t k = 0; k < i; ++k)
            b[i] -= a[i][k] * b[k];
        b[i] /= a[i][i].real();
        left -= std::norm(b[i]);
    }
    return std::max(left, 0.0);
}

struct Energies {
    double later = 0, foreseen = 0;
};

/// One octave's share.
Energies weigh(std::span<const Complex> sound) {
    if (sound.size() <= k_past + 2 * k_order)
        return {};
    const double later = complex_energy(sound.subspan(k_past));
    const auto equations = static_cast<double>(sound.size() - k_past);
    // What so many coefficients would foresee of anything is taken off.
    return {later, later - left_over(sound) * equations / (equations - k_order)};
}

} // namespace

double in_step(std::span<const float> in_band, double sample_rate_hz, double low_hz,
               double high_hz) {
    // Thinned without a filter: what folds over stays in step or does not, as before.
    const auto every =
        static_cast<std::size_t>(std::max(1.0, std::floor(sample_rate_hz / (4 * high_hz))));
    std::vector<double> sound;
    sound.reserve(in_band.size() / every + 1);
    for (std::size_t n = 0; n < in_band.size(); n += every)
        sound.push_back(static_cast<double>(in_band[n]));
    Energies all;
    for (double rate_hz = sample_rate_hz / static_cast<double>(every); rate_hz / 4 > 1.2 * low_hz;
         rate_hz /= 2) {
        const std::vector<Complex> octave = octave_of(sound);
        // The filter's answer to a sudden beginning is let go by, and 10 ms more.
        const double settled = std::ceil((8 + 0.010 * rate_hz) / k_keep_every);
        const Energies found = weigh(
            std::span{octave}.subspan(std::min(octave.size(), static_cast<std::size_t>(settled))));
        all.later += found.later;
        all.foreseen += found.foreseen;
        sound = at_half_rate(sound);
    }
    return all.later > 0 ? std::max(0.0, all.foreseen / all.later) : 0;
}

} // namespace platewright::taps
