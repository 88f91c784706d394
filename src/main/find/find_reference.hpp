#pragma once
#include "base/result.hpp"
#include "ledger/store.hpp"

#include <string>

namespace platewright::cli {

/// The session that a reference's name, or else another plate's newest session, stands for.
base::Result<ledger::Id> reference_session(const ledger::Store& store, const std::string& name);

} // namespace platewright::cli
