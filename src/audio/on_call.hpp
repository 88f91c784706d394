#pragma once
#include "audio/source.hpp"

#include <cstddef>
#include <vector>

namespace platewright::audio {

/// A recording whose strikes come when they are called for. Until then, and between them, the quiet
/// before its first strike is heard, to and fro, so that it never leaps. Faster than time: Paced
/// makes it live. It never ends. Threads: one, its reader's. Memory: the whole recording.
class OnCall final : public Source {
public:
    /// Reads the recording to its end. `strikes_s`: where its strikes begin, in s, ascending; the
    /// first not before 0.2 s. Throws std::invalid_argument where they don't lie so, and what the
    /// recording throws.
    OnCall(Source& recording, const std::vector<double>& strikes_s);
    double sample_rate_hz() const override { return rate_hz_; }
    Block read() override; ///< 20 ms
    /// The strike of this index comes next; while one sounds the call is not heard. Whether it was.
    bool call(std::size_t strike);

private:
    float next();
    double rate_hz_;
    std::vector<float> samples_, block_;
    std::vector<std::size_t> strikes_;           ///< frames
    std::size_t quiet_ = 0;                      ///< frames of the quiet at the beginning
    std::size_t at_ = 0;                         ///< in the quiet
    bool back_ = false;                          ///< it is gone through backwards
    std::size_t strike_at_ = 0, strike_end_ = 0; ///< what is left of the strike that sounds
};

} // namespace platewright::audio
