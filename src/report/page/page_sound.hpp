#pragma once
#include "taps/tap.hpp"

#include <string>

namespace platewright::report {

/// A tap as a browser plays it: a data: address of a WAV, one channel of 16 bits, as loud as it
/// goes, from just before the strike until it has rung away (at most `k_heard_s`), at half the rate
/// or less where that still carries what a plate rings with (20 to 26 kHz). Nothing but the sound
/// is in it. Empty where the tap has no samples, or none that sound. In: rate 8 to 400 kHz, samples
/// of full scale ±1. Threads: pure. Cost: about 1 ms.
inline constexpr double k_heard_s = 1.1;
std::string sound_address(const taps::Tap& tap);

} // namespace platewright::report
