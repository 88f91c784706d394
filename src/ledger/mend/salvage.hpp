#pragma once
/// What can still be read of a damaged database, row by row.

#include "ledger/tables/database.hpp"

#include <cstdint>
#include <filesystem>

namespace platewright::ledger {

/// Takes every row of the ledger's tables that can be read over into a database of today's tables;
/// where a row of that key is there already, that one stays. Past a bad page the rows after it are
/// reached by their keys. What a table's own conditions refuse is left. References are not looked
/// at: drop_orphans(). Gives the rows that came over. Cost: some 5 µs a row, and as much for each
/// id that is lost. Threads: as the databases.
std::int64_t pour_rows(Database& from, Database& into);

/// Takes away what belongs to a row that is not there, until nothing does; gives how many rows
/// went. A tap whose recording is not known keeps its figures and loses the reference.
std::int64_t drop_orphans(Database& database);

} // namespace platewright::ledger
