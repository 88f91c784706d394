#pragma once
#include "ledger/record.hpp"
#include "ledger/tables/database.hpp"

namespace platewright::ledger {

/// Reads what is kept of shapes; the newest form and the newest map count.
/// Fail: UnknownWord when a column holds a word that cannot be.
std::optional<FormRecord> read_form(Database& database, Id plate);
/// Fills in thickness, pins, flex readings, weighings and the newest plan.
void read_shape(Database& database, SessionHistory& session);

} // namespace platewright::ledger
