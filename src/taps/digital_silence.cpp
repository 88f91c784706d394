#include "taps/digital_silence.hpp"

#include "taps/coarse.hpp"

#include <algorithm>
#include <span>

namespace platewright::taps {

bool follows_digital_silence(const Tap& tap) {
    constexpr double least_s = 0.050, guard_s = 0.010; // an onset may be found a little late
    const auto frames = [&tap](double seconds) {
        return static_cast<std::size_t>(seconds * tap.sample_rate_hz);
    };
    if (tap.onset_index < frames(least_s) + frames(guard_s))
        return false;
    const auto before = std::span{tap.samples}.first(tap.onset_index - frames(guard_s));
    return std::all_of(before.begin(), before.end(),
                       [&](float x) { return x == before.front(); }) &&
           !is_coarse(tap.samples);
}

} // namespace platewright::taps
