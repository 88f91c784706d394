#include "audio/ring.hpp"

#include "base/loudest.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::audio {

void SampleRing::write(const float* interleaved, std::size_t frames, std::size_t channels,
                       std::size_t channel, bool overflow) noexcept {
    if (overflow) {
        lost_ += 1; // how many, the sound system does not say; that there is a gap is what counts
        overruns_.fetch_add(1, std::memory_order_relaxed);
    }
    bool dropped = false;
    for (std::size_t at = 0; at < frames; at += k_slot_frames) {
        const std::size_t count = std::min(k_slot_frames, frames - at);
        const std::size_t written = written_.load(std::memory_order_relaxed);
        if (written - read_.load(std::memory_order_acquire) == k_slots) {
            lost_ += static_cast<std::int64_t>(count);
            dropped = true;
            continue;
        }
        Slot& slot = (*slots_)[written % k_slots];
        for (std::size_t i = 0; i < count; ++i)
            slot.samples[i] =
                interleaved != nullptr ? interleaved[(at + i) * channels + channel] : 0.0F;
        slot.frames = static_cast<std::uint32_t>(count);
        slot.lost_before = lost_;
        lost_ = 0;
        written_.store(written + 1, std::memory_order_release);
    }
    if (dropped)
        overruns_.fetch_add(1, std::memory_order_relaxed);
}

std::int64_t SampleRing::read(std::vector<float>& into, std::size_t most) {
    into.clear();
    std::int64_t lost = 0;
    std::size_t read = read_.load(std::memory_order_relaxed);
    while (read != written_.load(std::memory_order_acquire)) {
        const Slot& slot = (*slots_)[read % k_slots];
        const auto samples = std::span{slot.samples}.first(slot.frames);
        const bool is_sound = std::isfinite(base::loudest(samples));
        if (!into.empty() &&
            (slot.lost_before > 0 || !is_sound || into.size() + samples.size() > most))
            break;
        lost += slot.lost_before + (is_sound ? 0 : static_cast<std::int64_t>(samples.size()));
        if (is_sound)
            into.insert(into.end(), samples.begin(), samples.end());
        read_.store(++read, std::memory_order_release);
    }
    return lost;
}

} // namespace platewright::audio
