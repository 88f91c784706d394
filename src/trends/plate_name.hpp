#pragma once
#include "ledger/record.hpp"

#include <string>

namespace platewright::trends {

/// What a plate is called: "Wren, back"; its own label alone where that names the instrument too.
std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate);

} // namespace platewright::trends
