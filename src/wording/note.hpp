#pragma once
#include <string>

namespace platewright::wording {

/// The nearest note of twelve equal steps to the octave, and how far off it is: "F4 +17 cents",
/// "Fis4 −8 Cent", "Fa#4 −8 cent". `pitch_hz` is that of A4 (ISO 16: 440). Octaves are numbered as
/// in scientific pitch notation in every language, C4 the one below A4.
/// Empty where hz or pitch_hz is not above 0.
std::string note_text(double hz, double pitch_hz);

} // namespace platewright::wording
