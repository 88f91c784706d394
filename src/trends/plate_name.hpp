#pragma once
#include "ledger/record.hpp"

#include <string>
#include <string_view>

namespace platewright::trends {

/// What a plate is called: "Wren, back"; its own label alone where that names the instrument too.
std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate);

/// Whether every word looked for stands somewhere in the instrument or one of its plates: in
/// labels, kind, part, wood, or any note, those of sessions as well. Small and large letters of
/// ASCII are the same; no words answer to all. Cost: linear in the text. Threads: pure.
bool answers_to(const ledger::InstrumentSummary& instrument, std::string_view words);

} // namespace platewright::trends
