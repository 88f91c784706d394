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

/// Modes of a session from its accepted taps. Taps share a mode's pole by weight, not by force: the
/// hold moves it from tap to tap by more than a good tap's own error, so each tap's pole counts
/// with the inverse of both variances together (consensus.hpp; docs/decisions/ says why), each tap
/// keeping its own amplitudes. The stated deviation combines the fit's with the tap-to-tap spread
/// (Student's t for few taps: an interval is value ± student_quantile(…, taps − 1)·sd; for a mode
/// of one tap the normal quantile, and a cent of frequency and a tenth of Q added in quadrature).
/// A mode found in only one of many taps is left out unless strong.
Pooled pool(std::span<const FittedTap> taps, const FitParams& params = {});

} // namespace platewright::modes
