#pragma once
#include "modes/mode.hpp"

#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::modes {

/// Probabilities of the names that the rules know.
struct NameOdds {
    struct One {
        std::vector<double> of_mode; ///< of each mode's bearing the name
        double missing = 0;          ///< that the mode is not among those found
    };
    std::map<int, One> by_name;
};

/// What is least sure about the names, in one sentence, and, apart from it, where on a plate a tap
/// would settle it.
struct Doubt {
    std::string sentence; ///< empty where every name stands at 0.95 or better
    std::optional<taps::Spot> ask_spot;
    int name = 0; ///< that it is about
};

/// names: those worth a word, the weightiest first.
Doubt greatest_doubt(std::span<const Mode> modes, const NameOdds& odds, std::span<const int> names);

} // namespace platewright::modes
