#pragma once
#include "ledger/record.hpp"
#include "report/sheet/sheet.hpp"
#include "trends/drift/comparison.hpp"

#include <optional>
#include <string>

namespace platewright::cli {

/// Computes what a bench sheet shows of a plate, in the language of now.
/// Cost: some 0.3 s where there is a thickness map, study_plate's where there is a plan of now.
/// Threads: pure.
report::PlateSheet sheet_of(ledger::PlateHistory history,
                            std::optional<trends::Comparison> comparison, std::string reference);

/// Another wood to set beside, and what it is called on the sheet.
struct WoodNamed {
    std::string label;
    ledger::WoodHistory history;
};

/// The same of a wood, its figures at a moisture or as each test was. Cost: below 1 s a tapped
/// board.
report::WoodSheet wood_sheet_of(ledger::WoodHistory history, std::vector<std::string> plates,
                                const std::optional<WoodNamed>& beside,
                                std::optional<double> moisture_pct);

} // namespace platewright::cli
