#include "audio/on_call.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::audio {
namespace {

constexpr double k_block_s = 0.02;
constexpr double k_before_s = 0.1; // of a strike: what is heard just before it counts as well
constexpr double k_piece_s = 1.4;  // from the strike on: it has rung out, and nothing else came yet

} // namespace

OnCall::OnCall(Source& recording, const std::vector<double>& strikes_s)
    : rate_hz_(recording.sample_rate_hz()) {
    for (bool ended = false; !ended;) {
        const Block block = recording.read();
        samples_.insert(samples_.end(), static_cast<std::size_t>(block.lost_frames), 0.0F);
        samples_.insert(samples_.end(), block.samples.begin(), block.samples.end());
        ended = block.ended;
    }
    for (const double strike : strikes_s)
        strikes_.push_back(
            static_cast<std::size_t>(std::llround(std::max(0.0, strike) * rate_hz_)));
    const auto before = static_cast<std::size_t>(k_before_s * rate_hz_);
    if (strikes_.empty() || !std::ranges::is_sorted(strikes_) || strikes_.front() < 2 * before ||
        strikes_.back() >= samples_.size())
        throw std::invalid_argument(
            "strikes ascending, within the recording, quiet before the first");
    quiet_ = strikes_.front() - before;
}

bool OnCall::call(std::size_t strike) {
    if (strike_at_ < strike_end_)
        return false;
    const auto before = static_cast<std::size_t>(k_before_s * rate_hz_);
    const std::size_t from = strikes_.at(strike);
    const std::size_t next =
        strike + 1 < strikes_.size() ? strikes_[strike + 1] - before : samples_.size();
    strike_at_ = from - before;
    strike_end_ = std::min(next, from + static_cast<std::size_t>(k_piece_s * rate_hz_));
    return true;
}

float OnCall::next() {
    if (strike_at_ < strike_end_)
        return samples_[strike_at_++];
    const float sample = samples_[at_];
    if (back_ ? at_ == 0 : at_ + 1 == quiet_)
        back_ = !back_;
    at_ = back_ ? std::max<std::size_t>(at_, 1) - 1 : at_ + 1;
    return sample;
}

Block OnCall::read() {
    block_.resize(static_cast<std::size_t>(k_block_s * rate_hz_));
    std::ranges::generate(block_, [this] { return next(); });
    return {.samples = block_};
}

} // namespace platewright::audio
