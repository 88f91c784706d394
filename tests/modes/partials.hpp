#pragma once
#include "modes/pool/pool.hpp"

namespace platewright::test {

/// A partial with the deviations that a clear one has.
inline modes::Partial partial(double hz, double level_db = 0.0, double q = 60.0) {
    modes::Partial p;
    p.frequency_hz = hz;
    p.frequency_sd_hz = 0.02;
    p.q = q;
    p.q_sd = 0.5;
    p.level_db = level_db;
    return p;
}

inline modes::FittedTap tap_of(std::vector<modes::Partial> partials,
                               taps::Spot spot = taps::Spot::unknown) {
    return {nullptr, spot, std::move(partials)};
}

} // namespace platewright::test
