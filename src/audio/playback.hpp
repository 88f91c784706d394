#pragma once
#include <memory>
#include <vector>

namespace platewright::audio {

/// Sound out of the system's loudspeaker, once, from the moment it is made. The audio callback only
/// copies.
/// Fails: the constructor throws base::Failure with the remedy where nothing can be played.
/// Threads: one owner, which also owns any Capture.
class Playback {
public:
    /// One channel, full scale ±1.
    Playback(std::vector<float> samples, double sample_rate_hz);
    ~Playback();
    /// Whether its last sample has left the loudspeaker.
    bool is_over() const;

private:
    struct Stream;
    std::unique_ptr<Stream> stream_;
};

} // namespace platewright::audio
