#include "ledger/named_modes.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::ledger {

void apply_makers_words(std::vector<ModeRecord>& modes, std::span<const MakersWord> words) {
    for (const MakersWord& word : words) {
        const auto distance = [&](const ModeRecord& mode) {
            return std::abs(mode.mode.frequency_hz - word.frequency_hz);
        };
        const auto meant = std::ranges::min_element(modes, {}, distance);
        if (meant == modes.end() || distance(*meant) > k_same_mode * word.frequency_hz)
            continue;
        meant->name.reset();
        if (!word.number)
            continue;
        for (ModeRecord& other : modes)
            if (other.name && other.name->number == *word.number)
                other.name.reset();
        meant->name = modes::ModeName{*word.number, 1.0, true};
    }
}

} // namespace platewright::ledger
