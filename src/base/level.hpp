#pragma once
#include <cmath>

namespace platewright::base {

/// Levels of amplitude (not power): 20·log10. Full scale is amplitude 1, so 1 is 0 dBFS.
/// Nothing at all reads as k_silence_db, never as minus infinity.
inline constexpr double k_silence_db = -160.0;

inline double amplitude_to_db(double amplitude) {
    return amplitude > 1e-8 ? 20.0 * std::log10(amplitude) : k_silence_db;
}
inline double db_to_amplitude(double level_db) { return std::pow(10.0, level_db / 20.0); }

/// How far `hz` lies above `from_hz`, in cents (1200 to the octave). Both > 0.
inline double cents(double hz, double from_hz) { return 1200.0 * std::log2(hz / from_hz); }

} // namespace platewright::base
