#include "bench/sound/voice.hpp"

#include <cmath>
#include <numbers>

namespace platewright::bench {
namespace {

constexpr double k_tone_hz = 5200.0; // an octave above the usual band's end
constexpr double k_tone_s = 0.07;
constexpr double k_pause_s = 0.05;
constexpr double k_tone_level = 0.05; // soft: −26 dBFS
constexpr double k_rate_hz = 48000.0;

} // namespace

std::vector<float> answer_tones(bool accepted, double sample_rate_hz) {
    const auto tone = static_cast<std::size_t>(k_tone_s * sample_rate_hz);
    const auto pause = static_cast<std::size_t>(k_pause_s * sample_rate_hz);
    std::vector<float> samples;
    for (int i = 0; i < (accepted ? 1 : 2); ++i) {
        for (std::size_t n = 0; n < tone; ++n) {
            const double along = static_cast<double>(n) / static_cast<double>(tone);
            const double swell = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * along);
            const double turn =
                2.0 * std::numbers::pi * k_tone_hz * static_cast<double>(n) / sample_rate_hz;
            samples.push_back(static_cast<float>(k_tone_level * swell * std::sin(turn)));
        }
        samples.resize(samples.size() + pause, 0.0F);
    }
    return samples;
}

void Voice::play(const taps::Tap& tap) {
    sound(tap.samples, tap.sample_rate_hz, LiveInput::Muted::all);
    is_tap_ = true;
}

void Voice::answer(bool accepted) {
    if (!playing_)
        sound(answer_tones(accepted, k_rate_hz), k_rate_hz, LiveInput::Muted::refused);
}

void Voice::sound(std::vector<float> samples, double rate_hz, LiveInput::Muted muted) {
    hush();
    input_.mute(muted);
    try {
        playing_.emplace(std::move(samples), rate_hz);
    } catch (...) { // whatever it was, nothing sounds: the input must not stay deaf
        input_.unmute();
        throw;
    }
}

void Voice::hush() {
    if (playing_)
        input_.unmute();
    playing_.reset();
    is_tap_ = false;
}

bool Voice::has_ended() {
    if (!playing_ || !playing_->is_over())
        return false;
    const bool was_tap = is_tap_;
    hush();
    return was_tap;
}

} // namespace platewright::bench
