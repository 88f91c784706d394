#pragma once
#include "modes/estimate/damped_model.hpp"
#include "modes/partial.hpp"
#include "modes/ring/ring_evidence.hpp"

#include <vector>

namespace platewright::modes {

/// One component that dies away, mode or not, and what it is as a partial.
struct FoundDecay {
    Component component;
    Partial partial;
};

/// `left`: the ring's samples less all of the fit. `others`: steady lines, and what another channel
/// tells; both they and the decays are of that fit.
RingEvidence weigh_ring(const Stretches& data, const std::vector<double>& left, double rate_hz,
                        const std::vector<Component>& others,
                        const std::vector<FoundDecay>& decays);

} // namespace platewright::modes
