#pragma once
#include "ledger/mend/seals.hpp"

namespace platewright::ledger {

/// Puts a part's rows as `from` has them in the place of those in `into`, where `from` has them
/// just as `into` sealed them; false where it has not. Within a transaction on `into` of the
/// caller's, with foreign keys off. Parts below it are not touched.
bool take_part_as_sealed(Database& from, Database& into, const PartName& part);

/// Takes a part's rows away. Parts below it are not touched.
void remove_part(Database& database, const PartName& part);

} // namespace platewright::ledger
