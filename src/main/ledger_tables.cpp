#include "main/ledger_tables.hpp"

namespace platewright::cli {

std::vector<report::CsvTable> ledger_tables(const ledger::Store& store, std::optional<ledger::Id> instrument,
                                            std::optional<ledger::Id> plate, report::CsvStyle style) {
    report::CsvTables tables(style);
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& summary : one.plates) {
            const bool wanted = (!instrument || *instrument == one.instrument.id) && (!plate || *plate == summary.plate.id);
            if (const auto history = wanted ? store.history(summary.plate.id) : std::nullopt)
                tables.add(*history);
        }
    return std::move(tables).finish();
}

} // namespace platewright::cli
