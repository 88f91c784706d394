#include "screen/naming_words.hpp"

namespace platewright::screen {

std::vector<int> names_for(const bench::PlateView& plate) {
    return plate.history.plate.part == modes::Part::body
               ? std::vector{modes::k_a0, modes::k_cbr, modes::k_b1_minus, modes::k_b1_plus}
               : std::vector{1, 2, 3, 4, 5, 6};
}

std::string name_word(const bench::PlateView& plate, int number) {
    return plate.history.plate.part == modes::Part::body ? modes::mode_text(number)
                                                         : std::to_string(number);
}

std::string naming_question(const modes::NamedMode& mode) {
    return say("{} Hz: which mode is it? \u2190 \u2192 another", figure(mode.mode.frequency_hz, 1));
}

} // namespace platewright::screen
