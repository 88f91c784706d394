#pragma once
#include "screen/fields/fields.hpp"

namespace platewright::screen {

/// A plate's part by a drawing each: the back with its joint, the top with its f-holes, the closed
/// body with neck and strings; in the proportions of its instrument. True when another was chosen.
bool choose_part(const ViewContext& context, std::string_view label,
                 const ledger::InstrumentRecord& instrument, modes::Part& part);

} // namespace platewright::screen
