#pragma once
#include "taps/spot.hpp"
#include "taps/verdict.hpp"

#include <cstddef>
#include <cstdint>
#include <vector>

namespace platewright::taps {

/// One strike, cut out of the sound. Time is counted in frames from the start of the stream or
/// file.
struct Tap {
    double sample_rate_hz = 0;
    std::int64_t onset_frame = 0; ///< the strike's first sample, counted from the stream's start
    std::size_t onset_index = 0;  ///< the same sample within `samples`; before it lies the pre-roll
    std::vector<float> samples;   ///< full scale ±1
    double peak_dbfs = 0;
    double noise_dbfs = 0; ///< RMS of the quiet before the strike
    Verdict verdict = Verdict::accepted;
    Spot spot = Spot::unknown;

    double onset_s() const { return static_cast<double>(onset_frame) / sample_rate_hz; }
};

/// Whether it sounded when the stream or file began: a strike that a recording was cut to, or what
/// went on there.
inline constexpr double k_begins_s = 0.010;
inline bool begins_with_stream(const Tap& tap) { return tap.onset_s() < k_begins_s; }

} // namespace platewright::taps
