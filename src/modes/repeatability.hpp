#pragma once
#include "modes/family.hpp"
#include "modes/mode.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::modes {

/// Median over the strong modes of spread / frequency, in ‰; 0 where no mode was found twice.
double spread_permille(std::span<const Mode> modes);

/// The tap that stands most apart from the others, and in what.
struct Outlier {
    int tap = -1;    ///< −1: none does
    std::string why; ///< "0.6 % above the other taps": empty for none
};

/// Over the strong modes of each tap: deviation from the taps' median in units of their usual
/// scatter and the fit's own, for frequency and for damping. Apart is beyond four of them, with
/// four taps or more; a tap whose every mode lies on one side is told from one that merely
/// scatters.
Outlier outlier_of(std::span<const Family> families, std::size_t taps);

/// One sentence where the session's taps disagree too much to set it against another (5 ‰: what
/// re-hanging a plate does, common practice, no source); empty else.
std::string spread_remark(double permille);

} // namespace platewright::modes
