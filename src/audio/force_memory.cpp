#include "audio/force_memory.hpp"

#include <algorithm>

namespace platewright::audio {

Block ForceMemory::read() {
    const Block block = source_->read();
    const auto most = static_cast<std::size_t>(k_force_memory_s * sample_rate_hz());
    const auto lost = static_cast<std::size_t>(std::max<std::int64_t>(0, block.lost_frames));
    kept_.insert(kept_.end(), std::min(lost, most), 0.0F);
    kept_.insert(kept_.end(), block.force.begin(), block.force.end());
    next_ += static_cast<std::int64_t>(lost + block.force.size());
    if (kept_.size() > most)
        kept_.erase(kept_.begin(), kept_.end() - static_cast<std::ptrdiff_t>(most));
    return block;
}

std::vector<float> ForceMemory::force(std::int64_t frame, std::size_t count) const {
    const std::int64_t first = next_ - static_cast<std::int64_t>(kept_.size());
    if (const auto before = static_cast<std::size_t>(-std::min<std::int64_t>(0, frame));
        before > 0 && before < count) { // the source began with the strike
        std::vector<float> whole(before);
        const std::vector<float> rest = force(0, count - before);
        whole.insert(whole.end(), rest.begin(), rest.end());
        return rest.empty() ? rest : whole;
    }
    if (frame < first || frame + static_cast<std::int64_t>(count) > next_)
        return {};
    const auto begin = kept_.begin() + static_cast<std::ptrdiff_t>(frame - first);
    return {begin, begin + static_cast<std::ptrdiff_t>(count)};
}

} // namespace platewright::audio
