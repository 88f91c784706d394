#pragma once
#include <optional>
#include <vector>

#include "ledger/store.hpp"
#include "report/csv_tables.hpp"

namespace platewright::cli {

/// The CSV tables of all plates, of one instrument's, or of one plate.
std::vector<report::CsvTable> ledger_tables(const ledger::Store& store, std::optional<ledger::Id> instrument,
                                            std::optional<ledger::Id> plate, report::CsvStyle style);

} // namespace platewright::cli
