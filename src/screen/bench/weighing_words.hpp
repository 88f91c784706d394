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

/// Whether a mass is still to be laid on, tapped with, or taken off.
inline bool is_under_way(const bench::WeighingView& weighing) {
    return weighing.progress.step != trends::WeighingStep::done;
}

} // namespace platewright::screen
