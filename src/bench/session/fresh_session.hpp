#pragma once
#include "base/clock.hpp"
#include "ledger/record.hpp"

#include <optional>
#include <span>
#include <string>

namespace platewright::bench {

/// A session of this plate that is to begin: at the stage of the newest one, for wood goes off in
/// small steps; of a closed body, closed. Its date is given where it begins; mass and air are the
/// maker's to say.
ledger::SessionRecord fresh_session(const ledger::PlateHistory& history);

/// One sentence where the newest session lies in the future, by more than clocks of one day differ:
/// this computer's date is wrong, or was wrong then, and what is kept now would be sorted before
/// it.
std::optional<std::string> date_in_doubt(std::span<const ledger::InstrumentSummary> instruments,
                                         base::Timestamp now);

} // namespace platewright::bench
