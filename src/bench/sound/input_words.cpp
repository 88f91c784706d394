#include "bench/sound/input_words.hpp"

#include "wording/say.hpp"

#include <cmath>

namespace platewright::bench {

std::vector<std::string> words_of(const modes::InputFaults& faults) {
    using wording::say;
    std::vector<std::string> words;
    if (faults.moves_gain)
        words.emplace_back(say("The input turns itself down after a strike: switch automatic gain, "
                               "noise gate and noise suppression off. Its figures are less "
                               "sure, Q above all."));
    if (faults.bends)
        words.emplace_back(say("The input presses loud strikes flat before they are full scale: "
                               "turn the preamplifier down or move away. Only strong partials of "
                               "these taps are taken, and their figures are less sure."));
    if (faults.room.share > 0)
        words.emplace_back(say("The room answers: {} s to -60 dB, {} dB below the direct sound. A "
                               "frequency is good to {} cents here (350 Hz, Q 60); with the "
                               "microphone at half the distance, to half of that.",
                               wording::figure(std::log(1000.0) / faults.room.decay_per_s, 1),
                               wording::figure(-10 * std::log10(faults.room.share), 0),
                               wording::figure(modes::cost_cents(faults.room), 0)));
    return words;
}

} // namespace platewright::bench
