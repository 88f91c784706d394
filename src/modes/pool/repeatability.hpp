#pragma once
#include "modes/mode.hpp"
#include "modes/pool/family.hpp"

#include <cstddef>
#include <span>

namespace platewright::modes {

/// Median over the strong modes of spread / frequency, in ‰; 0 where no mode was found twice.
double spread_permille(std::span<const Mode> modes);

/// The tap that stands most apart from the others, −1 for none: root mean square, over its strong
/// modes, of its frequencies' deviations from the taps' medians, in units of their usual scatter
/// and the fit's own. Apart is beyond four of them, with four taps or more.
int outlier_of(std::span<const Family> families, std::size_t taps);

} // namespace platewright::modes
