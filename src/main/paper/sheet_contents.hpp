#pragma once
#include "ledger/store.hpp"
#include "report/page/page.hpp"
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

/// All that the page of an instrument shows, in the language of now: its parts with their drift and
/// maps, and of each session up to `sounds` taps to be heard, the clearest of each spot. A
/// recording that is missing or damaged is passed over. Cost: some 0.3 s a part with a map.
report::RecordPage record_of(const ledger::Store& store, const ledger::InstrumentRecord& instrument,
                             std::size_t sounds);

/// A file's name that every system takes, from what a maker calls a thing.
std::string file_name_of(const std::string& label);

} // namespace platewright::cli
