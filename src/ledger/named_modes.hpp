#pragma once
#include "ledger/record.hpp"

#include <optional>
#include <span>
#include <vector>

namespace platewright::ledger {

/// What the maker once said of a mode: the one nearest this frequency bears this number, or none.
struct MakersWord {
    double frequency_hz = 0;
    std::optional<int> number;
};

/// How far, as a share of frequency, a mode may have moved by re-analysis or more taps and still be
/// the one the maker meant. Neighbouring modes of a plate lie farther apart.
inline constexpr double k_same_mode = 0.02;

/// Lays the maker's words, oldest first, over the names that were found. The last word on a mode
/// holds; a number the maker gave to one mode is borne by no other. Words on modes that are not
/// there are passed over. Pure.
void apply_makers_words(std::vector<ModeRecord>& modes, std::span<const MakersWord> words);

} // namespace platewright::ledger
