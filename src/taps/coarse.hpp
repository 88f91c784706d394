#pragma once
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <span>

namespace platewright::taps {

/// Whether sound was written down in steps of more than a thousandth of full scale, as eight bits
/// do it. A quiet room lies within one such step and is digital silence there; every crest of a
/// ring stands still. In: samples, full scale ±1. Cost: one pass.
inline bool is_coarse(std::span<const float> samples) {
    constexpr float k_coarse_step = 1.0F / 1024; // ten bits and fewer; half of it is -66 dBFS, what
                                                 // a quiet room and its microphone come to
    float least = 1;
    for (std::size_t i = 1; i < samples.size(); ++i) {
        const float step = std::abs(samples[i] - samples[i - 1]);
        least = step > 0 ? std::min(least, step) : least;
    }
    return least > k_coarse_step;
}

} // namespace platewright::taps
