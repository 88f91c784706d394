#pragma once
#include "audio/source.hpp"

#include <cstdint>
#include <deque>
#include <memory>
#include <vector>

namespace platewright::audio {

/// A source with a hammer's force beside its sound, that remembers the force of the last
/// `k_force_memory_s`: a tap is known only when it has rung away, and its force is wanted then.
/// Threads: one, its reader's.
inline constexpr double k_force_memory_s = 12.0;
class ForceMemory final : public Source {
public:
    explicit ForceMemory(std::unique_ptr<Source> source) : source_(std::move(source)) {}
    double sample_rate_hz() const override { return source_->sample_rate_hz(); }
    Block read() override;
    const Source& inner() const { return *source_; }

    /// The force of `count` frames from `frame` on, counted as taps are (lost frames count, and are
    /// nothing). Empty where part of it is no longer, or not yet, known.
    std::vector<float> force(std::int64_t frame, std::size_t count) const;

private:
    std::unique_ptr<Source> source_;
    std::deque<float> kept_;
    std::int64_t next_ = 0; ///< frame after the last one kept
};

} // namespace platewright::audio
