#include "modes/signal/response.hpp"

#include "modes/signal/spectrum.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace platewright::modes {
namespace {

constexpr double k_record_s = 2.0;      // of sound a strike, zeros after it
constexpr double k_highest_hz = 6000.0; // kept
constexpr double k_before_s = 0.004;    // the push may begin before the sound does
constexpr double k_longest_push_s = 0.02;
constexpr double k_end_fade_s = 0.02;
constexpr double k_full_scale = 0.999;
constexpr double k_over_noise = 10.0; // the push's peak over the channel's noise, RMS
constexpr double k_second_push = 0.1; // of the first one's peak
constexpr double k_push_ends = 0.02;  // of its peak

double rms(std::span<const float> samples) {
    double sum = 0.0;
    for (const float s : samples)
        sum += static_cast<double>(s) * static_cast<double>(s);
    return samples.empty() ? 0.0 : std::sqrt(sum / static_cast<double>(samples.size()));
}

std::size_t frames(double seconds, double rate_hz) {
    return static_cast<std::size_t>(std::lround(seconds * rate_hz));
}

/// Where the push lies: from its rise to its fall, and its peak.
struct Push {
    std::size_t begin = 0, end = 0; ///< [begin, end)
    double peak = 0.0, offset = 0.0;
};

Push push_in(const ForcedStrike& strike, double rate_hz) {
    const std::size_t before = std::min(strike.onset, frames(k_before_s, rate_hz));
    const std::size_t begin = strike.onset - before;
    const std::size_t end =
        std::min(strike.force.size(), strike.onset + frames(k_longest_push_s, rate_hz));
    Push push;
    double sum = 0.0; // what the channel stands at when nothing pushes
    for (const float s : strike.force.first(begin))
        sum += static_cast<double>(s);
    push.offset = begin > 0 ? sum / static_cast<double>(begin) : 0.0;
    std::size_t top = begin;
    for (std::size_t i = begin; i < end; ++i)
        if (const double size = std::abs(static_cast<double>(strike.force[i]) - push.offset);
            size > push.peak) {
            push.peak = size;
            top = i;
        }
    const auto over = [&](std::size_t i) {
        return std::abs(static_cast<double>(strike.force[i]) - push.offset) >
               k_push_ends * push.peak;
    };
    push.begin = top;
    while (push.begin > begin && over(push.begin - 1))
        --push.begin;
    push.end = top;
    while (push.end < end && over(push.end))
        ++push.end;
    return push;
}

} // namespace

std::size_t Response::bin(double hz) const {
    if (h1.empty())
        return 0;
    const double at = std::clamp(std::round(hz / step_hz), 0.0, static_cast<double>(h1.size() - 1));
    return static_cast<std::size_t>(at);
}

Response::Reading Response::at(double hz) const {
    const std::size_t k = bin(hz);
    return {std::abs(h1[k]), std::arg(h1[k]), relative_sd(k), coherence[k]};
}

double Response::relative_sd(std::size_t bin) const {
    const double gamma2 = std::clamp(coherence.at(bin), 1e-12, 1.0);
    return std::sqrt((1.0 - gamma2) / (2.0 * gamma2 * std::max(1, strikes)));
}

ResponseEstimate::ResponseEstimate(double sample_rate_hz, double newton)
    : rate_hz_(sample_rate_hz), newton_(newton),
      length_(fast_length(frames(k_record_s, sample_rate_hz))),
      bins_(std::min(
          length_ / 2 + 1,
          static_cast<std::size_t>(k_highest_hz * static_cast<double>(length_) / sample_rate_hz) +
              1)),
      force_power_(bins_), heard_power_(bins_), cross_(bins_) {}

std::vector<std::complex<double>>
ResponseEstimate::transformed(const std::vector<double>& samples) const {
    RealTransform transform(length_);
    const auto all = transform.transform(samples);
    std::vector<std::complex<double>> kept(bins_);
    for (std::size_t k = 0; k < bins_; ++k)
        kept[k] = {static_cast<double>(all[k].real()), static_cast<double>(all[k].imag())};
    return kept;
}

ForceVerdict ResponseEstimate::add(const ForcedStrike& strike) {
    if (strike.force.size() != strike.heard.size() || strike.onset >= strike.force.size())
        throw std::invalid_argument("force and sound of the same frames, the onset within them");
    const Push push = push_in(strike, rate_hz_);
    for (std::size_t i = push.begin; i < push.end; ++i)
        if (std::abs(static_cast<double>(strike.force[i])) >= k_full_scale)
            return ForceVerdict::clipped;
    const std::size_t quiet =
        push.begin > frames(k_before_s, rate_hz_) ? push.begin - frames(k_before_s, rate_hz_) : 0;
    double noise = 0.0;
    for (const float s : strike.force.first(quiet))
        noise += std::pow(static_cast<double>(s) - push.offset, 2);
    noise = quiet > 0 ? std::sqrt(noise / static_cast<double>(quiet))
                      : rms(strike.force) / k_over_noise;
    if (push.peak <= k_over_noise * noise || push.peak <= 0.0)
        return ForceVerdict::none;
    const std::size_t used = std::min(strike.force.size(), push.begin + length_);
    for (std::size_t i = push.end; i < used; ++i)
        if (std::abs(static_cast<double>(strike.force[i]) - push.offset) >
            std::max(k_second_push * push.peak, k_over_noise * noise))
            return ForceVerdict::struck_twice;
    std::vector<double> force(push.end - push.begin), heard(used - push.begin);
    for (std::size_t i = 0; i < force.size(); ++i)
        force[i] = newton_ * (static_cast<double>(strike.force[push.begin + i]) - push.offset);
    const std::size_t fade = std::min(heard.size(), frames(k_end_fade_s, rate_hz_));
    for (std::size_t i = 0; i < heard.size(); ++i)
        heard[i] = static_cast<double>(strike.heard[push.begin + i]);
    for (std::size_t i = 0; i < fade; ++i)
        heard[heard.size() - 1 - i] *=
            0.5 -
            0.5 * std::cos(std::numbers::pi * static_cast<double>(i) / static_cast<double>(fade));
    const auto f = transformed(force), y = transformed(heard);
    for (std::size_t k = 0; k < bins_; ++k) {
        force_power_[k] += std::norm(f[k]);
        heard_power_[k] += std::norm(y[k]);
        cross_[k] += std::conj(f[k]) * y[k];
    }
    ++strikes_;
    return ForceVerdict::good;
}

Response ResponseEstimate::result() const {
    Response response;
    response.strikes = strikes_;
    if (strikes_ == 0)
        return response;
    response.step_hz = rate_hz_ / static_cast<double>(length_);
    const double strongest = *std::ranges::max_element(force_power_);
    constexpr double k_20_db = 0.01; // in power
    std::size_t driven = 0;
    while (driven + 1 < bins_ && force_power_[driven + 1] >= k_20_db * strongest)
        ++driven;
    response.driven_to_hz = static_cast<double>(driven) * response.step_hz;
    for (std::size_t k = 0; k < bins_; ++k) {
        const double force =
            std::max(force_power_[k], 1e-12 * strongest); // where nothing drives, nothing is told
        response.h1.push_back(cross_[k] / force);
        const double both = force * heard_power_[k];
        response.coherence.push_back(both > 0.0 ? std::min(1.0, std::norm(cross_[k]) / both) : 0.0);
    }
    return response;
}

} // namespace platewright::modes
