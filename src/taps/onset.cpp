#include "taps/onset.hpp"

#include "taps/prediction.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

namespace platewright::taps {

std::size_t pick_onset(std::span<const float> samples) {
    constexpr double quietest = 1e-14; // digital silence: the logarithm stays finite
    const std::size_t count = samples.size();
    double total = 0;
    for (const float x : samples)
        total += static_cast<double>(x) * static_cast<double>(x);
    double before = 0, best = std::numeric_limits<double>::infinity();
    std::size_t at = 0;
    for (std::size_t k = 1; k + 4 < count; ++k) {
        before += static_cast<double>(samples[k - 1]) * static_cast<double>(samples[k - 1]);
        if (k < 4)
            continue;
        const double left = static_cast<double>(k), right = static_cast<double>(count - k);
        const double aic = left * std::log(before / left + quietest) +
                           right * std::log((total - before) / right + quietest);
        if (aic < best) {
            best = aic;
            at = k;
        }
    }
    return at;
}

std::size_t refine_onset(std::span<const float> samples, std::size_t rough, double sample_rate_hz) {
    constexpr std::size_t order = 40;
    constexpr double learnt_s = 0.2, least_learnt_s = 0.02, earlier_s = 0.020, later_s = 0.001;
    const auto frames = [sample_rate_hz](double seconds) {
        return static_cast<std::size_t>(seconds * sample_rate_hz);
    };
    const std::size_t end = rough + frames(k_refined_after_s);
    if (rough < frames(earlier_s + least_learnt_s) + order || end > samples.size())
        return rough;
    const std::size_t from = rough - frames(earlier_s), learnt = std::min(from, frames(learnt_s));
    const auto room = samples.subspan(from - learnt, learnt);
    const auto predictor = burg(room, order);
    const auto energy = [](std::span<const double> values) {
        double sum = 0;
        for (const double x : values)
            sum += x * x;
        return sum;
    };
    constexpr double quietest = 1e-16; // digital silence: the logarithm stays finite
    const double usual =
        energy(innovation(room, predictor)) / static_cast<double>(learnt - order) + quietest;
    const auto all = innovation(samples.subspan(from - order, end - from + order), predictor);
    const auto novel = std::span{all}.subspan(order);
    double after = energy(novel), before = 0, best = std::numeric_limits<double>::infinity();
    std::size_t at = 0;
    for (std::size_t k = 0;
         k + frames(later_s) < novel.size() && from + k <= rough + frames(later_s); ++k) {
        const double right = static_cast<double>(novel.size() - k);
        const double aic = static_cast<double>(k) * std::log(usual) + before / usual +
                           right * (std::log(after / right + quietest) + 1);
        if (aic < best) {
            best = aic;
            at = k;
        }
        before += novel[k] * novel[k];
        after -= novel[k] * novel[k];
    }
    return from + at;
}

} // namespace platewright::taps
