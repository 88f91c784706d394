#pragma once
#include "modes/name/name.hpp"
#include "trends/decision/decision.hpp"

#include <string>

namespace platewright::trends {

/// What is in doubt about the names, for who reads the decision beside it: the spot that would
/// settle it stands there unless the decision names one itself. Empty where nothing is in doubt.
std::string doubt_beside(const modes::Naming& naming, const Decision& decision);

} // namespace platewright::trends
