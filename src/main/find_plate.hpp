#pragma once
#include <optional>
#include <string>

#include "base/result.hpp"
#include "ledger/store.hpp"

namespace platewright::cli {

/// The one plate of this name or id; a Fault that says which there are when it is none or several.
base::Result<ledger::PlateRecord> find_plate(const ledger::Store& store, const std::string& name);

/// The one instrument of this name or id; else a Fault, as above.
base::Result<ledger::InstrumentRecord> find_instrument(const ledger::Store& store, const std::string& name);

/// The part that a plate's own name speaks of, in one of the languages: "Wren top", "Decke 12". Nothing where it
/// speaks of none, or of two.
std::optional<modes::Part> part_named_in(const std::string& label);

/// A ledger to read in. Faults where there is none yet: reading must not make one.
base::Result<ledger::Store> open_to_read(const std::filesystem::path& folder);
/// A ledger to change, made where there is none; it may be read-only all the same (Store::read_only). Both say on
/// standard error what became of its files, where another program exchanged them.
ledger::Store open_to_write(const std::filesystem::path& folder);

} // namespace platewright::cli
