#pragma once
#include "modes/partial.hpp"
#include "modes/ring/input_faults.hpp"
#include "modes/ring/ring_evidence.hpp"
#include "taps/tap.hpp"

#include <string_view>
#include <vector>

namespace platewright::modes {

/// Names the method; stored beside every result. Changes whenever the numbers may.
inline constexpr std::string_view k_analysis_version = "10";

struct FitParams {
    double low_hz = 40;    ///< band looked at
    double high_hz = 2500; ///< up to 20 000
    double floor_db = -50; ///< weaker partials, relative to the strongest, are not reported
    double skip_s = 0.005; ///< after the strike, while the hammer is still on the wood
    int most = 40;         ///< partials at the most
};

enum class FitStatus {
    ok,
    too_short,
    no_ring,
    doubtful ///< it may be a ring: too little is to be heard to tell (modes/ring/recognised.hpp)
};

struct Fit {
    FitStatus status = FitStatus::no_ring;
    std::vector<Partial> partials; ///< ascending frequency; empty unless ok or doubtful
    RingEvidence evidence;         ///< of the channel that is likeliest a ring
    InputEvidence input;           ///< its floor and its room of that channel
};

/// Fits damped sinusoids to one tap (subspace start, least-squares refinement).
/// In:   tap.samples at 8..400 kHz with pre-roll, from which the noise's spectrum is learnt.
/// Out:  partials with standard deviations. Steady lines that stand before the tap are none. What
/// damped sinusoids do not tell by far the most of (a voice), or what dies as a thump does, is
/// no_ring (ring_evidence.hpp): where one channel rings the tap does, whatever a wider band holds
/// besides. Where the room answers (reverberation.hpp) what may be its own is left out, and its
/// pull is in the deviations of the rest. Fails: by status; never NaN. Threads: pure; worker.
Fit fit_tap(const taps::Tap& tap, const FitParams& params = {});

} // namespace platewright::modes
