#pragma once
#include "taps/spot.hpp"

#include <filesystem>
#include <string>
#include <vector>

namespace platewright::bench {

/// Strikes that were recorded once and can be given again one by one, in place of a microphone: the
/// demo's, for a first walk without a plate at hand.
struct RecordedStrikes {
    struct Strike {
        double onset_s = 0;
        taps::Spot spot = taps::Spot::unknown;
    };
    std::filesystem::path recording;
    std::vector<Strike> strikes; ///< in the recording's order; empty: there are none
    std::string plate;           ///< the label of the plate that was struck
    double mass_g = 0;           ///< what it weighed
};

/// Which one comes next where the maker strikes at `spot`: after `last` (−1: none yet), around the
/// end, the nearest one at that spot; where nobody struck there, one at a spot that is struck for
/// the same mode; with no spot given, any. −1 where there is none. Pure.
int next_strike(const RecordedStrikes& recorded, int last, taps::Spot spot);

} // namespace platewright::bench
