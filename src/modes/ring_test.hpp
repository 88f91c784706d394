#pragma once
#include "modes/damped_model.hpp"
#include "modes/partial.hpp"
#include "modes/ring_evidence.hpp"

#include <vector>

namespace platewright::modes {

/// One component that dies away, mode or not, and what it is as a partial.
struct FoundDecay {
    Component component;
    Partial partial;
};

/// `others`: steady lines, and what another channel tells. Both they and the decays are of `fit`, a fit of `data`.
RingEvidence weigh_ring(const Stretches& data, double rate_hz, const DampedFit& fit, const std::vector<Component>& others,
                        const std::vector<FoundDecay>& decays);

} // namespace platewright::modes
