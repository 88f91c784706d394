#include "modes/estimate/candidates.hpp"

#include "modes/signal/spectrum.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace platewright::modes {
namespace {

using std::numbers::pi;

/// Samples under e^{-decay·n}. Several weights run beside each other: of one alone, each would wait
/// for the last.
std::vector<double> falling(std::span<const double> samples, double decay) {
    constexpr std::size_t lanes = 4;
    std::array<double, lanes> weights{};
    for (std::size_t lane = 0; lane < lanes; ++lane)
        weights[lane] = std::exp(-decay * static_cast<double>(lane));
    const double ratio = std::exp(-decay * static_cast<double>(lanes));
    std::vector<double> weighted(samples.begin(), samples.end());
    for (std::size_t n = 0; n < weighted.size(); n += lanes) {
        for (std::size_t lane = 0; lane < std::min(lanes, weighted.size() - n); ++lane) {
            weighted[n + lane] *= weights[lane];
            weights[lane] *= ratio;
        }
    }
    return weighted;
}

/// Peaks of one matched-filter spectrum.
void scan(std::span<const double> samples, double decay, double least_score,
          std::vector<Candidate>& peaks) {
    // Beyond this the weight is e^-8: the rest would add noise only.
    const auto reach = static_cast<std::size_t>(std::min(8.0 / decay, 1e9));
    const std::size_t length = std::min(samples.size(), std::max<std::size_t>(64, reach));
    RealTransform transform(fast_length(length + length / 2));
    const auto bins = transform.transform(falling(samples.first(length), decay));
    const double energy =
        std::expm1(-2.0 * decay * static_cast<double>(length)) / std::expm1(-2.0 * decay);
    const double step = 2.0 * pi / static_cast<double>(transform.length());
    const auto score = [&](std::size_t k) {
        return 2.0 * static_cast<double>(std::norm(bins[k])) / energy;
    };
    const double least_power = 0.5 * least_score * energy;
    for (std::size_t k = 2; k + 2 < bins.size(); ++k) {
        if (static_cast<double>(std::norm(bins[k])) < least_power)
            continue; // nearly all
        const double here = score(k);
        const double left = score(k - 1);
        const double right = score(k + 1);
        if (here < left || here <= right)
            continue;
        const double bend = left - 2.0 * here + right;
        const double shift = bend < 0.0 ? 0.5 * (left - right) / bend : 0.0;
        peaks.push_back({step * (static_cast<double>(k) + shift), decay, here});
    }
}

/// True when a peak is but the flank or a ripple of stronger ones, or noise riding on a flank:
/// amplitudes add, so a peak must stand out of the sum of the flanks by what a peak alone needs.
/// What is hidden here shows in the residual once the stronger ones are fitted.
bool in_shadow(const Candidate& peak, const std::vector<Candidate>& stronger, double least_score,
               std::size_t samples) {
    double flanks = 0.0;
    for (const Candidate& other : stronger) {
        const double distance = std::abs(peak.angle - other.angle);
        const double width = peak.decay + other.decay;
        if (distance < resolution({peak.angle, width, 0.0}, samples))
            return true;
        const double ripple = std::exp(-width * static_cast<double>(samples));
        const double square =
            distance * distance + width * width; // of angles, so it can't overflow: no hypot
        flanks += (1.0 + ripple) * width * std::sqrt(other.score / square);
    }
    constexpr double margin = 1.2; // decays are known to a factor of two only
    return std::sqrt(peak.score) < margin * flanks + std::sqrt(least_score);
}

} // namespace

double resolution(const Candidate& candidate, std::size_t samples) {
    return candidate.decay + 2.0 * pi / static_cast<double>(samples);
}

std::vector<Candidate> find_candidates(std::span<const double> samples, double least_score,
                                       std::size_t most) {
    std::vector<Candidate> peaks;
    if (samples.size() < 16)
        return peaks;
    constexpr double fastest = 0.06; // Q near 10 at a quarter of the sample rate
    for (double decay = 0.5 / static_cast<double>(samples.size()); decay < fastest; decay *= 4.0) {
        scan(samples, decay, least_score, peaks);
    }
    std::sort(peaks.begin(), peaks.end(),
              [](const Candidate& a, const Candidate& b) { return a.score > b.score; });
    std::vector<Candidate> kept;
    for (const Candidate& peak : peaks) {
        if (kept.size() == most)
            break;
        if (!in_shadow(peak, kept, least_score, samples.size()))
            kept.push_back(peak);
    }
    return kept;
}

} // namespace platewright::modes
