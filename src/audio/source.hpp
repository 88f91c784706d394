#pragma once
#include <cstdint>
#include <span>

namespace platewright::audio {

/// What a read gave.
struct Block {
    std::span<const float> samples; ///< one channel, full scale ±1; valid until the next read
    std::int64_t lost_frames = 0;   ///< frames that were lost before these
    bool ended = false;             ///< nothing more will ever come
    /// The same frames of a second channel, a hammer's force, where one was asked for; else empty.
    std::span<const float> force = {};
};

/// Where sound comes from: a live input or a recording. The engine knows no other difference.
/// Fails: read throws base::Failure when the device or the file breaks.
class Source {
public:
    virtual ~Source() = default;
    virtual double sample_rate_hz() const = 0;
    /// The next samples, at most about 0.1 s of them. A live source waits up to 20 ms and may give
    /// none.
    virtual Block read() = 0;
};

} // namespace platewright::audio
