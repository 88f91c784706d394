#pragma once
#include "ledger/store.hpp"
#include "report/page/page.hpp"

#include <string>

namespace platewright::cli {

/// All that the page of an instrument shows, in the language of now: its parts with their drift and
/// maps, and of each session up to `sounds` taps to be heard, the clearest of each spot. A
/// recording that is missing or damaged is passed over. Cost: some 0.3 s a part with a map.
report::RecordPage record_of(const ledger::Store& store, const ledger::InstrumentRecord& instrument,
                             std::size_t sounds);

/// A file's name that every system takes, from what a maker calls a thing.
std::string file_name_of(const std::string& label);

} // namespace platewright::cli
