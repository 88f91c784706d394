#pragma once
#include <array>
#include <atomic>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <vector>

namespace platewright::audio {

/// Samples on their way from the audio callback to the engine: single producer, single consumer,
/// fixed memory, allocated on construction. Each slot knows how many frames were lost just before
/// it, so that a gap stays at its place in the sound.
class SampleRing {
public:
    static constexpr std::size_t k_slot_frames = 512;
    static constexpr std::size_t k_slots = 1024; ///< 10.9 s at 48 kHz, 2.7 s at 192 kHz

    SampleRing() : slots_(std::make_unique<std::array<Slot, k_slots>>()) {}

    /// RT: wait-free, no allocation, no system call. One channel of interleaved frames goes in.
    /// `overflow` is the sound system's word that it lost input before these frames. What finds no
    /// room is counted.
    void write(const float* interleaved, std::size_t frames, std::size_t channels,
               std::size_t channel, bool overflow) noexcept;

    /// What came next, up to the next gap and at most `most` frames; replaces `into`. Gives the
    /// frames lost before them; a slot that holds what is no finite number counts as lost. One
    /// reader; not RT (may allocate).
    std::int64_t read(std::vector<float>& into, std::size_t most);

    /// How often sound was lost. Any thread.
    std::int64_t overruns() const noexcept { return overruns_.load(std::memory_order_relaxed); }

private:
    struct Slot {
        std::array<float, k_slot_frames> samples;
        std::uint32_t frames = 0;
        std::int64_t lost_before = 0;
    };
    using Count = std::atomic<std::size_t>;
    static_assert(Count::is_always_lock_free);

    std::unique_ptr<std::array<Slot, k_slots>> slots_;
    alignas(64) Count written_{0};
    alignas(64) Count read_{0};
    alignas(64) std::atomic<std::int64_t> overruns_{0};
    std::int64_t lost_ = 0; // the producer's own: not yet told to a slot
};

} // namespace platewright::audio
