#pragma once
#include "taps/tap.hpp"

#include <span>

namespace platewright::taps {

/// Whether all samples before the strike are the same: no room is so quiet. A noise gate or noise
/// suppression was on, which bends decays too, or the sound was cut and put together. In: a tap
/// with 50 ms of pre-roll or more; else false. Of a sound written down coarsely (is_coarse) false
/// too: there any quiet room comes out so. Pure.
bool follows_digital_silence(const Tap& tap);

/// The same tap after a quarter of a second of digital silence, which counts for a quiet without
/// any noise: for a strike that its recording begins with.
Tap led_by_silence(const Tap& tap);

/// Whether sound was written down in steps of more than a thousandth of full scale, as eight bits
/// do it. A quiet room lies within one such step and is digital silence there; every crest of a
/// ring stands still. In: samples, full scale ±1. Cost: one pass.
bool is_coarse(std::span<const float> samples);

} // namespace platewright::taps
