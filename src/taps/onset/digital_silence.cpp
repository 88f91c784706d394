#include "taps/onset/digital_silence.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
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

Tap led_by_silence(const Tap& tap) {
    constexpr double silence_s = 0.25;
    Tap led = tap;
    const auto silence = static_cast<std::size_t>(silence_s * tap.sample_rate_hz);
    led.samples.insert(led.samples.begin(), silence, 0.0F);
    led.onset_index += silence;
    return led;
}

bool is_coarse(std::span<const float> samples) {
    constexpr float coarse_step = 1.0F / 1024; // ten bits and fewer; half of it is -66 dBFS, what
                                               // a quiet room and its microphone come to
    float least = 1;
    for (std::size_t i = 1; i < samples.size(); ++i) {
        const float step = std::abs(samples[i] - samples[i - 1]);
        least = step > 0 ? std::min(least, step) : least;
    }
    return least > coarse_step;
}

} // namespace platewright::taps
