#pragma once
#include "taps/tap.hpp"

namespace platewright::taps {

/// Whether all samples before the strike are the same: no room is so quiet. A noise gate or noise
/// suppression was on, which bends decays too, or the sound was cut and put together. In: a tap
/// with 50 ms of pre-roll or more; else false. Of a sound written down coarsely (is_coarse) false
/// too: there any quiet room comes out so. Pure.
bool follows_digital_silence(const Tap& tap);

} // namespace platewright::taps
