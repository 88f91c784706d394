#pragma once
#include "bench/snapshot.hpp"

#include <string>

namespace platewright::screen {

/// What comes next in the weighing at hand: a word or two, and a sentence.
struct WeighingWords {
    std::string step, sentence;
};
WeighingWords words_of(const bench::WeighingView& weighing);

/// "mode 5: 352.1 → 348.0 Hz (−4.1 ± 0.2)".
std::string words_of(const trends::WeighedModeShift& shift);

} // namespace platewright::screen
