#include "modes/signal/whitener.hpp"

#include "base/turning.hpp"
#include "modes/signal/spectrum.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace platewright::modes {
namespace {

using std::numbers::pi;

constexpr double k_rounding_variance = 1.2e-15; // (2^-23)² / 12: nothing recorded is quieter

/// Periodogram with a Hann window (rumble must not leak over the band); mean equals the variance.
std::vector<double> periodogram(std::span<const double> samples) {
    RealTransform transform(fast_length(samples.size()));
    std::vector<double> windowed(samples.size());
    double weight = 0.0;
    const auto size = static_cast<double>(samples.size());
    base::Turning along(pi / size, 2.0 * pi / size);
    for (std::size_t n = 0; n < samples.size(); ++n) {
        const double window = 1.0 - along.next().real();
        windowed[n] = window * samples[n];
        weight += window * window;
    }
    std::vector<double> power;
    for (const auto& bin : transform.transform(windowed)) {
        power.push_back(static_cast<double>(std::norm(bin)) / weight);
    }
    return power;
}

/// Median over a window that widens with frequency: rumble is steep, a fan's hiss is not.
/// Divided by ln 2, the median of a unit-mean exponential variable.
std::vector<double> smoothed(const std::vector<double>& power) {
    const long size = static_cast<long>(power.size());
    std::vector<double> smooth(power.size());
    std::vector<double> window;
    for (long k = 0; k < size; ++k) {
        const long half = std::clamp(k / 4, 3L, 24L);
        // Wide medians change little from bin to bin: every few bins will do.
        if (k % std::max(1L, half / 6) != 0) {
            smooth[static_cast<std::size_t>(k)] = smooth[static_cast<std::size_t>(k) - 1];
            continue;
        }
        const long from = std::max(0L, k - half);
        const long to = std::min(size, k + half + 1);
        window.assign(power.begin() + from, power.begin() + to);
        const auto middle = window.begin() + static_cast<long>(window.size()) / 2;
        std::nth_element(window.begin(), middle, window.end());
        smooth[static_cast<std::size_t>(k)] = *middle / std::numbers::ln2;
    }
    return smooth;
}

/// r[lag] = mean over the circle of power · cos(angle · lag)
std::vector<double> autocorrelation(const std::vector<double>& power, int lags) {
    const auto steps = static_cast<double>(power.size() - 1);
    const auto size = static_cast<Eigen::Index>(power.size());
    Eigen::ArrayXd share = Eigen::Map<const Eigen::ArrayXd>(power.data(), size) / steps;
    share(0) *= 0.5;
    share(size - 1) *= 0.5;
    base::Turning around(0.0, pi / steps);
    const Eigen::ArrayXd cosine =
        Eigen::ArrayXd::NullaryExpr(size, [&] { return around.next().real(); });
    Eigen::ArrayXd here = Eigen::ArrayXd::Ones(size), before = cosine;
    std::vector<double> correlation;
    for (int lag = 0; lag <= lags; ++lag) {
        correlation.push_back((share * here).sum());
        before = 2.0 * cosine * here - before; // cos((l+1)x) = 2 cos(x) cos(l x) - cos((l-1)x)
        here.swap(before);
    }
    return correlation;
}

} // namespace

Whitener learn_whitener(std::span<const double> samples, int order, double least_variance) {
    constexpr std::size_t fewest = 64;
    const double least = std::max(k_rounding_variance, least_variance);
    if (samples.size() < fewest) {
        double variance = least;
        for (double x : samples)
            variance += x * x / static_cast<double>(samples.size());
        return {{1.0 / std::sqrt(variance)}};
    }
    std::vector<double> correlation = autocorrelation(smoothed(periodogram(samples)), order);
    correlation[0] = std::max(correlation[0] * (1.0 + 1e-9) + k_rounding_variance, least);
    std::vector<double> taps{1.0};
    double variance = correlation[0];
    for (int m = 1; m <= order; ++m) {
        double sum = 0.0;
        for (int k = 0; k < m; ++k) {
            sum += taps[static_cast<std::size_t>(k)] * correlation[static_cast<std::size_t>(m - k)];
        }
        const double reflection = -sum / variance;
        taps.push_back(0.0);
        const std::vector<double> before = taps;
        for (int k = 1; k <= m; ++k) {
            taps[static_cast<std::size_t>(k)] +=
                reflection * before[static_cast<std::size_t>(m - k)];
        }
        variance *= 1.0 - reflection * reflection;
    }
    for (double& tap : taps)
        tap /= std::sqrt(variance);
    return {taps};
}

std::vector<double> whitened(const Whitener& whitener, std::span<const double> samples) {
    const std::size_t reach = whitener.taps.size() - 1;
    std::vector<double> white;
    if (samples.size() <= reach)
        return white;
    white.assign(samples.size() - reach, 0.0);
    for (std::size_t k = 0; k <= reach; ++k) {
        const double tap = whitener.taps[k];
        for (std::size_t n = 0; n < white.size(); ++n)
            white[n] += tap * samples[n + reach - k];
    }
    return white;
}

std::complex<double> response(const Whitener& whitener, std::complex<double> s) {
    std::complex<double> sum;
    for (std::size_t k = 0; k < whitener.taps.size(); ++k) {
        sum += whitener.taps[k] * std::exp(-s * static_cast<double>(k));
    }
    return sum;
}

} // namespace platewright::modes
