#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"

#include <optional>

namespace platewright::trends {

/// A mass that can't be: none that a plate or a body of this kind has, or a quarter or less, four
/// times or more, of what the plate weighed in the session nearest in time. Such a figure is a lost
/// digit or decimal mark. Nothing where all is well, or nothing was weighed. Bounds: common
/// practice, no source.
std::optional<base::Fault> fault_in_mass(const ledger::SessionRecord& session,
                                         const ledger::PlateHistory& history);

} // namespace platewright::trends
