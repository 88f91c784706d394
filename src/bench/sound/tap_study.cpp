#include "bench/sound/tap_study.hpp"

#include "base/level.hpp"
#include "modes/estimate/fit.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

namespace platewright::bench {
namespace {

constexpr double k_studied_s = 1.0; // of ring

/// The partials' sum from `first` samples after the strike on.
std::vector<float> sounded(std::span<const modes::Partial> partials, double rate_hz,
                           std::size_t first, std::size_t count) {
    std::vector<double> sum(count, 0.0);
    for (const modes::Partial& p : partials) {
        const double turn = 2.0 * std::numbers::pi * p.frequency_hz / rate_hz;
        const double decay = turn / (2.0 * p.q);
        const auto start = static_cast<double>(first);
        std::complex<double> now =
            std::polar(base::db_to_amplitude(p.level_dbfs) * std::exp(-decay * start),
                       p.phase_rad + turn * start);
        const std::complex<double> step = std::polar(std::exp(-decay), turn);
        for (double& sample : sum) {
            sample += now.real();
            now *= step;
        }
    }
    return {sum.begin(), sum.end()};
}

double energy(std::span<const float> samples) {
    double sum = 0;
    for (const float x : samples)
        sum += static_cast<double>(x) * static_cast<double>(x);
    return sum;
}

} // namespace

TapStudy study_of(const taps::Tap& tap, std::span<const modes::Partial> partials,
                  double highest_hz) {
    TapStudy study;
    const auto first = static_cast<std::size_t>(modes::FitParams{}.skip_s * tap.sample_rate_hz);
    if (tap.onset_index + first >= tap.samples.size())
        return study;
    std::span<const float> ring = std::span{tap.samples}.subspan(tap.onset_index + first);
    ring = ring.first(
        std::min(ring.size(), static_cast<std::size_t>(k_studied_s * tap.sample_rate_hz)));
    const std::vector<float> fitted = sounded(partials, tap.sample_rate_hz, first, ring.size());
    std::vector<float> left(ring.begin(), ring.end());
    for (std::size_t i = 0; i < left.size(); ++i)
        left[i] -= fitted[i];
    study.heard = modes::spectrum(ring, tap.sample_rate_hz, highest_hz);
    study.fitted = modes::spectrum(fitted, tap.sample_rate_hz, highest_hz);
    study.left = modes::spectrum(left, tap.sample_rate_hz, highest_hz);
    const double whole = energy(ring);
    if (whole > 0)
        study.left_db = std::min(0.0, 10.0 * std::log10(std::max(energy(left) / whole, 1e-12)));
    return study;
}

} // namespace platewright::bench
