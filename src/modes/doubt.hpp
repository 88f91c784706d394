#pragma once
#include "modes/mode.hpp"

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::modes {

/// Probabilities of the names in k_known_names, in that order.
struct NameOdds {
    std::array<std::vector<double>, 3> of_mode; ///< by name, then by mode
    std::array<double, 3> missing{};            ///< that the mode is not among those found
};

/// What is least sure about the names, in one sentence, and where a tap would settle it.
struct Doubt {
    std::string sentence; ///< empty where every name stands at 0.95 or better
    std::optional<taps::Spot> ask_spot;
};

Doubt greatest_doubt(std::span<const Mode> modes, const NameOdds& odds);

} // namespace platewright::modes
