#include "trends/plate_name.hpp"

namespace platewright::trends {

std::string plate_name(const ledger::InstrumentRecord& instrument,
                       const ledger::PlateRecord& plate) {
    const bool said = plate.label.find(instrument.label) != std::string::npos;
    return said ? plate.label : instrument.label + ", " + plate.label;
}

} // namespace platewright::trends
