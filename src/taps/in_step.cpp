#include "taps/in_step.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

#include "base/turning.hpp"
#include "taps/band.hpp"

namespace platewright::taps {
namespace {

using Complex = std::complex<double>;

// An octave lies between an eighth and a quarter of its sample rate; all its figures follow.
constexpr double k_centre = 3.0 / 16, k_half_width = 1.0 / 16; // of the sample rate
constexpr std::size_t k_keep_every = 6;                        // of the samples, once shifted to 0 Hz
constexpr std::size_t k_lag = 7;                               // of those kept: eight cycles of the centre
constexpr std::size_t k_order = 6;                             // modes an octave can hold and be foreseen
constexpr double k_longest_s = 1.0;                            // of a ring, looked at
constexpr double k_contact_s = 0.010;                          // the hammer's push and the contact's click

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

double energy(std::span<const Complex> x) {
    double sum = 0;
    for (const Complex& value : x)
        sum += std::norm(value);
    return sum;
}

constexpr std::size_t k_past = k_lag + k_order - 1; // samples before the first that can be foreseen

/// Energy of x[k_past…) that the best predictor leaves over: the normal equations, a little ridged, by Cholesky.
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
            a[i][j] = i == j ? Complex{std::sqrt(std::max(sum.real(), 1e-30))} : sum / a[j][j].real();
        }
        for (std::size_t k = 0; k < i; ++k)
            b[i] -= a[i][k] * b[k];
        b[i] /= a[i][i].real();
        left -= std::norm(b[i]);
    }
    return std::max(left, 0.0);
}

struct Energies {
    double from = 0, to = 0, foreseen = 0;
};

/// One octave's share: `ring` as far as it stands out of the room's power.
Energies weigh(std::span<const Complex> ring, double room_power) {
    constexpr std::size_t piece = 4;
    while (ring.size() > piece && energy(ring.last(piece)) < 2 * piece * room_power)
        ring = ring.first(ring.size() - piece);
    const auto excess = [room_power](std::span<const Complex> x) {
        return energy(x) - static_cast<double>(x.size()) * room_power;
    };
    Energies found{.from = std::max(0.0, excess(ring))};
    if (ring.size() <= k_past + 2 * k_order)
        return found;
    const auto later = ring.subspan(k_past);
    const auto equations = static_cast<double>(later.size());
    found.to = std::max(0.0, excess(later));
    // What so many coefficients would foresee of anything is taken off; and hum is foreseen, but no ring.
    const double left = left_over(ring) * equations / (equations - k_order);
    found.foreseen = std::min(energy(later) - left, found.to);
    return found;
}

} // namespace

InStep in_step(std::span<const float> in_band, std::size_t onset_index, double sample_rate_hz, double low_hz,
               double high_hz) {
    // Thinned without a filter: what folds over stays in step or does not, as before.
    const auto every = static_cast<std::size_t>(std::max(1.0, std::floor(sample_rate_hz / (4 * high_hz))));
    const auto longest = static_cast<std::size_t>(k_longest_s * sample_rate_hz);
    const std::size_t end = std::min(in_band.size(), onset_index + longest);
    std::vector<double> sound;
    sound.reserve(end / every + 1);
    for (std::size_t n = 0; n < end; n += every)
        sound.push_back(static_cast<double>(in_band[n]));
    const double onset_s = static_cast<double>(onset_index) / sample_rate_hz;
    Energies all;
    double power = 0, falling = 0; // at the start, of what dies; and its loss, dB/s
    for (double rate_hz = sample_rate_hz / static_cast<double>(every); rate_hz / 4 > 1.2 * low_hz; rate_hz /= 2) {
        const std::vector<Complex> octave = octave_of(sound);
        const double settle_s = 8 / rate_hz; // the filter's answer to something sudden
        const auto from = [&](double at_s) {
            const double index = std::ceil(std::max(0.0, at_s) * rate_hz / k_keep_every);
            return std::min(octave.size(), static_cast<std::size_t>(index));
        };
        const std::size_t room_from = from(3 * settle_s), room_to = from(onset_s - settle_s - 0.002);
        const std::span span{octave};
        const double room_power =
            room_to > room_from ? energy(span.subspan(room_from, room_to - room_from)) / static_cast<double>(room_to - room_from) : 0;
        const Energies found = weigh(span.subspan(from(onset_s + k_contact_s + settle_s)), room_power);
        all.from += found.from;
        all.to += found.to;
        all.foreseen += found.foreseen;
        if (found.to > 0 && found.from > found.to) {
            const double lag_s = k_keep_every * k_past / rate_hz;
            const double loss_db_per_s = 10 * std::log10(found.from / found.to) / lag_s;
            power += found.from * loss_db_per_s;
            falling += found.from * loss_db_per_s * loss_db_per_s;
        }
        sound = at_half_rate(sound);
    }
    return {.kept = all.from > 0 ? all.to / all.from : 0,
            .foreseen = all.to > 0 ? std::max(0.0, all.foreseen / all.to) : 0,
            .dies_db_per_s = power > 0 ? falling / power : 0};
}

} // namespace platewright::taps
