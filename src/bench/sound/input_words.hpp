#pragma once
#include "modes/ring/input_faults.hpp"

#include <string>
#include <vector>

namespace platewright::bench {

/// What to do about an input that changes what it passes on, a sentence each, in the language of
/// now.
std::vector<std::string> words_of(const modes::InputFaults& faults);

} // namespace platewright::bench
