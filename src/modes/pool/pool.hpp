#pragma once
#include "modes/estimate/fit.hpp"
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
/// What is doubtful is no mode: what only few of many taps know of unless strong, another mode's
/// shadow, the hammer's thump. Where one pole stands for two modes the deviation does not shrink
/// with the number of taps.
Pooled pool(std::span<const FittedTap> taps, const FitParams& params = {});

/// Whether most partials are as unsure as no noise makes them: the taps were heard in a room that
/// answers (reverberation.hpp).
bool is_in_room(std::span<const FittedTap> taps);

/// 95 % interval of a pooled frequency or Q with its deviation: Student's quantile for taps - 1,
/// the normal one for a single tap.
struct Interval {
    double low = 0, high = 0;
};
Interval interval(double value, double sd, int taps);

} // namespace platewright::modes
