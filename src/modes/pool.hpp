#pragma once
#include "modes/fit.hpp"
#include "modes/mode.hpp"

#include <span>
#include <vector>

namespace platewright::modes {

/// One accepted tap and what was found in it.
struct FittedTap {
    const taps::Tap* tap = nullptr; ///< may be null where only partials are at hand
    taps::Spot spot = taps::Spot::unknown;
    std::vector<Partial> partials;
};

struct Pooled {
    std::vector<Mode> modes; ///< ascending frequency
    int outlier = -1;        ///< index of the tap that stands most apart, or −1
    double spread_permille =
        0; ///< median over strong modes of spread / frequency, in ‰; 0 for one tap
};

/// Modes of a session from its accepted taps. With the taps themselves at hand all share poles,
/// each tap keeping its own amplitudes; the stated deviation combines the fit's with the tap-to-tap
/// spread (Student's t for few taps: an interval is value ± student_quantile(…, taps − 1)·sd). A
/// mode found in only one of many taps is left out unless strong.
Pooled pool(std::span<const FittedTap> taps, const FitParams& params = {});

} // namespace platewright::modes
