#include "taps/onset.hpp"

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

} // namespace platewright::taps
