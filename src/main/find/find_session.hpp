#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"

#include <string>

namespace platewright::cli {

/// Index of the session meant: its number, its date (2026-03-14 or 14.3.2026), or nothing for the
/// newest. Fault: none, or several on that day, with what there is.
base::Result<std::size_t> find_session(const ledger::PlateHistory& history,
                                       const std::string& name);

} // namespace platewright::cli
