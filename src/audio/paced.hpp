#pragma once
#include "audio/source.hpp"

#include <chrono>
#include <memory>

namespace platewright::audio {

/// Lets a source that is faster than time, a recording, arrive as if live.
class Paced final : public Source {
public:
    explicit Paced(std::unique_ptr<Source> source);
    double sample_rate_hz() const override;
    Block read() override; ///< waits until its samples would have been heard

private:
    std::unique_ptr<Source> source_;
    std::chrono::steady_clock::time_point begun_{};
    std::int64_t frames_ = 0;
};

} // namespace platewright::audio
