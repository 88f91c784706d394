#pragma once
#include <optional>
#include <string>

#include "ledger/record.hpp"
#include "report/sheet.hpp"
#include "trends/comparison.hpp"

namespace platewright::cli {

/// Computes what a bench sheet shows of a plate; for the command line and for printing from the
/// window. Cost: some 0.3 s where there is a thickness map. Threads: pure.
report::PlateSheet sheet_of(ledger::PlateHistory history, std::optional<trends::Comparison> comparison,
                            std::string reference);

} // namespace platewright::cli
