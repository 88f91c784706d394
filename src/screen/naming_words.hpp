#pragma once
#include "screen/sight.hpp"

#include <string>
#include <vector>

namespace platewright::screen {

// What is offered when a mode is given a name.

/// The names that a mode of this plate, or of this body, may be given.
std::vector<int> names_for(const bench::PlateView& plate);
std::string name_word(const bench::PlateView& plate, int number);
std::string naming_question(const modes::NamedMode& mode);

} // namespace platewright::screen
