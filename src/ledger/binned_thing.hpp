#pragma once
#include "base/clock.hpp"

#include <cstdint>
#include <string>

namespace platewright::ledger {

/// Something in the bin.
struct BinnedThing {
    bool operator==(const BinnedThing&) const = default;
    std::string table; ///< instrument, plate, session, tap, …
    std::int64_t id = 0;
    base::Timestamp binned;
    std::string what; ///< for people: what it is, and what it belongs to
};

} // namespace platewright::ledger
