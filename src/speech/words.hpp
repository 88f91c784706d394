#pragma once
#include "trends/decision/decision.hpp"

#include <span>
#include <string>

namespace platewright::speech {

/// A named mode of the open session.
struct SpokenMode {
    int number = 0;
    double hz = 0;
};

/// What is said of a session, in the language of now and short enough to be heard between two taps:
/// the mode that decides with what is left to its goal ("5: 352, 4 to go."), or modes 1, 2 and 5
/// (of a body A0, B1−, B1+) where none decides; then the decision in its one sentence. Frequencies
/// in whole Hz. Digits are left to the voice. Pure.
std::string spoken(std::span<const SpokenMode> modes, const trends::Decision& decision);

} // namespace platewright::speech
