#include "main/ledger/ledger_tables.hpp"

#include <algorithm>
#include <set>

namespace platewright::cli {

std::vector<report::CsvTable> ledger_tables(const ledger::Store& store,
                                            std::optional<ledger::Id> instrument,
                                            std::optional<ledger::Id> plate,
                                            report::CsvStyle style) {
    report::CsvTables tables(style);
    std::set<ledger::Id> written;
    for (const ledger::InstrumentSummary& one : store.overview())
        for (const ledger::PlateSummary& summary : one.plates) {
            const bool wanted = (!instrument || *instrument == one.instrument.id) &&
                                (!plate || *plate == summary.plate.id);
            if (const auto history = wanted ? store.history(summary.plate.id) : std::nullopt)
                tables.add(*history), written.insert(summary.plate.id);
        }
    for (const ledger::ReferenceRecord& reference : store.references())
        tables.add(reference);
    for (const ledger::WoodHistory& wood : store.wood_stock())
        if ((!instrument && !plate) ||
            std::ranges::any_of(wood.plates, [&](ledger::Id id) { return written.contains(id); }))
            tables.add(wood);
    return std::move(tables).finish();
}

ledger::BundleRequest bundle_of(const ledger::Store& store, std::optional<ledger::Id> instrument,
                                std::optional<ledger::Id> plate) {
    ledger::BundleRequest request{.instrument = instrument, .plate = plate, .tables = {}};
    for (report::CsvTable& table : ledger_tables(store, instrument, plate, report::CsvStyle::point))
        request.tables.push_back({std::move(table.name), std::move(table.text)});
    return request;
}

} // namespace platewright::cli
