#include "audio/paced.hpp"

#include <thread>
#include <utility>

namespace platewright::audio {

Paced::Paced(std::unique_ptr<Source> source) : source_(std::move(source)) {}

double Paced::sample_rate_hz() const { return source_->sample_rate_hz(); }

Block Paced::read() {
    const Block block = source_->read();
    const auto now = std::chrono::steady_clock::now();
    if (frames_ == 0)
        begun_ = now;
    frames_ += static_cast<std::int64_t>(block.samples.size()) + block.lost_frames;
    const std::chrono::duration<double> due{static_cast<double>(frames_) / sample_rate_hz()};
    std::this_thread::sleep_until(begun_ +
                                  std::chrono::duration_cast<std::chrono::nanoseconds>(due));
    return block;
}

} // namespace platewright::audio
