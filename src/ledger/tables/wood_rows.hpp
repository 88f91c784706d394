#pragma once
#include "ledger/record.hpp"
#include "ledger/tables/database.hpp"

namespace platewright::ledger {

/// Reads what is kept of wood and of targets.
/// Fail: base::Failure when a column holds a word that cannot be.
WoodHistory read_wood_history(Database& database, WoodRecord wood);

/// The wood a plate was carved from, where that was said and it does not lie in the bin.
std::optional<WoodHistory> read_carved_from(Database& database, Id plate);
std::vector<TargetRecord> read_targets(Database& database, Id plate);

} // namespace platewright::ledger
