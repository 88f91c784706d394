#pragma once
#include "taps/spot.hpp"

#include <vector>

namespace platewright::modes {

/// How strongly a mode of this very plate is expected to answer at its spots, dB below its own
/// strongest: what a model of the plate says, in place of what holds of plates in general.
struct SpotProfile {
    struct Level {
        taps::Spot spot = taps::Spot::unknown;
        double level_db = 0;
    };
    int name = 0; ///< 1, 2 or 5
    std::vector<Level> levels;
};

} // namespace platewright::modes
