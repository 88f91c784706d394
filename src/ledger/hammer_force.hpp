#pragma once
#include <vector>

namespace platewright::ledger {

/// What a hammer told of the force of one tap, kept in the tap's recording as a second channel.
struct HammerForce {
    std::vector<float> samples; ///< on the tap's own frames, full scale ±1; empty: none was told
    double newton = 0;          ///< at full scale; 0: not known
    bool operator==(const HammerForce&) const = default;
};

} // namespace platewright::ledger
