#pragma once
#include "base/result.hpp"
#include "ledger/store.hpp"

#include <string>

namespace platewright::cli {

/// The one wood of this name or id; where there is none, the wood of the plate of that name. A
/// Fault says what there is.
base::Result<ledger::WoodHistory> find_wood(const ledger::Store& store, const std::string& name);

} // namespace platewright::cli
