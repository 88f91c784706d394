#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// A mass that can't be: none that a plate or a body of this kind has at this stage; a quarter or
/// less, four times or more, of what the plate weighed in the session nearest in time; or so much
/// more than in an earlier session (or less than in a later one) as no bar, varnish or damp air
/// adds. Such a figure is a lost digit or decimal mark. Nothing where all is well, or nothing was
/// weighed. Bounds: common practice, no source.
std::optional<base::Fault> fault_in_mass(const ledger::SessionRecord& session,
                                         const ledger::PlateHistory& history);

/// A sentence for each gain between two sessions that follow each other which damp air, a bar or
/// varnish hardly explain: what fault_in_mass lets pass, and what was kept before it was asked.
std::vector<std::string> remarks_on_masses(const ledger::PlateHistory& history);

} // namespace platewright::trends
