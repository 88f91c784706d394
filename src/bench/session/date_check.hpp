#pragma once
#include "base/clock.hpp"
#include "ledger/record.hpp"

#include <optional>
#include <span>
#include <string>

namespace platewright::bench {

/// One sentence where the newest session lies in the future, by more than clocks of one day differ:
/// this computer's date is wrong, or was wrong then, and what is kept now would be sorted before
/// it.
std::optional<std::string> date_in_doubt(std::span<const ledger::InstrumentSummary> instruments,
                                         base::Timestamp now);

} // namespace platewright::bench
