#pragma once
#include "ledger/wood_record.hpp"
#include "modes/mode.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// A motion that the maker points out among what was tapped, or types without a recording.
struct TypedMotion {
    ledger::WoodMotion motion = ledger::WoodMotion::along;
    double frequency_hz = 0;
    std::optional<double> q;
};

struct RecognisedMotions {
    std::vector<ledger::WoodModeRecord> modes; ///< at most one a motion
    std::vector<std::string> doubts; ///< sentences; empty where all that matters was found
};

/// Which of the modes tapped on a piece is which motion: what the maker says (the mode within 2 %
/// bears it, else it stands as typed), then, for the motions such a piece is tapped for, the mode
/// that fits best what the species' handbook wood of this size would do, where it stands out from
/// the others with a probability of 0.8 or better; the spread between trees is allowed for.
/// A bar is looked at for bending along its length, a board for its three, and either for the sound
/// along the grain; a wedge or billet for sound alone.
RecognisedMotions recognise(std::span<const modes::Mode> tapped, const ledger::WoodTestRecord& test,
                            const std::string& species, std::span<const TypedMotion> typed,
                            const std::string& analysis_version);

/// The highest frequency a piece of this length may sound at, struck on its end: c / 2L with the
/// fastest wood's c, 6300 m/s (spruce along the grain, 4500 to 6200 m/s by the usual handbooks;
/// from memory), and a tenth more.
double highest_motion_hz(const ledger::WoodTestRecord& test);

} // namespace platewright::trends
