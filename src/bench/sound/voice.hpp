#pragma once
#include "audio/playback.hpp"
#include "bench/sound/live_input.hpp"

#include <optional>

namespace platewright::bench {

/// What the bench itself lets sound: kept taps, and a soft answer to each strike. The input is
/// told, so that none of it becomes a tap. Fails: base::Failure where nothing can be played.
/// Threads: the engine's only.
class Voice {
public:
    explicit Voice(LiveInput& live_input) : input_(live_input) {}

    /// In place of what sounds now.
    void play(const taps::Tap& tap);
    /// One soft tone for an accepted tap, two for a refused one; they lie above the band that taps
    /// are looked for in, and swell and fade, so that they are no strike.
    void answer(bool accepted);
    void hush();
    /// Looks whether it is over; true once, when a tap's sound has ended.
    bool has_ended();

private:
    void sound(std::vector<float> samples, double rate_hz, LiveInput::Muted muted);

    LiveInput& input_;
    std::optional<audio::Playback> playing_;
    bool is_tap_ = false;
};

/// The tones of an answer, full scale ±1.
std::vector<float> answer_tones(bool accepted, double sample_rate_hz);

} // namespace platewright::bench
