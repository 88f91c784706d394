#include "bench/input_words.hpp"

#include "wording/say.hpp"

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
    return words;
}

} // namespace platewright::bench
