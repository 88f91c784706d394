#pragma once
#include "taps/onset/detector.hpp"

#include <span>

namespace platewright::taps {

/// A strike as the detector cut it out: the tap, and its samples in the band strikes are looked for
/// in.
struct Cut {
    const Tap& tap;
    std::span<const float> in_band; ///< as long as tap.samples
    double room_dbfs = 0;           ///< RMS of the room in the band when the strike came
    bool struck_again = false;      ///< a second strike followed before settle_s
    bool gap = false;               ///< samples were lost while it rang
};

/// The verdict on a strike, as far as its level and length tell, in the order: gap, clipped, too
/// weak, noise before it, too short, struck twice. Whether it rings, the fit tells
/// (modes/ring/ring_test.hpp). Pure; about a millisecond; worker.
Verdict judge(const Cut& cut, const DetectorParams& params);

} // namespace platewright::taps
