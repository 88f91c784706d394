#pragma once
#include "ledger/store.hpp"
#include "report/tables/csv_tables.hpp"

#include <optional>
#include <vector>

namespace platewright::cli {

/// The CSV tables of all plates, of one instrument's, or of one plate.
std::vector<report::CsvTable> ledger_tables(const ledger::Store& store,
                                            std::optional<ledger::Id> instrument,
                                            std::optional<ledger::Id> plate,
                                            report::CsvStyle style);

/// A bundle of all, of one instrument, or of one plate, with its tables.
ledger::BundleRequest bundle_of(const ledger::Store& store, std::optional<ledger::Id> instrument,
                                std::optional<ledger::Id> plate);

} // namespace platewright::cli
