#pragma once

#include "random.hpp"

#include <cstddef>
#include <vector>

namespace demo {

/// Everything but the plate: what the room, its people and the microphone add. All signals are in
/// full scale (±1), one sample per 1/rate seconds.
using Signal = std::vector<double>;

/// Adds `part` to `sum`; both have the same length.
void mix(Signal& sum, const Signal& part);

/// Room noise of the given rms: rumble below 60 Hz, air falling by 6 dB an octave above 300 Hz, and
/// a little hiss.
Signal room_noise(std::size_t length, double rate_hz, double rms, Random& random);

/// Mains hum: the fundamental and odd-heavy harmonics to the 15th, wandering by ±0.02 Hz as a grid
/// does. `amplitude` is the fundamental's.
Signal mains_hum(std::size_t length, double rate_hz, double hum_hz, double amplitude,
                 Random& random);

/// A chair pushed back: two or three dull thumps (modes of a floor, Q near 5) and a scrape.
/// Peak 1.
Signal chair(double rate_hz, Random& random);

/// Two spoken syllables: a train of glottal pulses, its pitch gliding, through the first three
/// formants of two vowels (Peterson and Barney 1952, men: /a/ 730 1090 2440 Hz, /i/ 270 2290
/// 3010 Hz; from memory). Peak 1.
Signal voice(double rate_hz, Random& random);

/// A small condenser microphone: first-order roll-off below 45 Hz and above 14 kHz.
void microphone(Signal& signal, double rate_hz);

double peak(const Signal& signal);
double amplitude_of_db(double decibel);

} // namespace demo
