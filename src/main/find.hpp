#pragma once
#include "base/result.hpp"
#include "ledger/record.hpp"
#include "ledger/store.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::cli {

/// The one plate of this name or id; a Fault that says which there are when it is none or several.
base::Result<ledger::PlateRecord> find_plate(const ledger::Store& store, const std::string& name);

/// All that is kept of it.
base::Result<ledger::PlateHistory> find_history(const ledger::Store& store,
                                                const std::string& name);

/// Of what may be meant by a plate's name: the plates that bear it themselves, else those of that
/// number, or of the instrument of that name.
std::vector<ledger::PlateRecord> plates_called(const ledger::Store& store, const std::string& name);

/// Whether two names are one to the ledger: the letters of ASCII without regard to their case.
bool same_label(std::string_view a, std::string_view b);

/// The one instrument of this name or id; else a Fault, as above.
base::Result<ledger::InstrumentRecord> find_instrument(const ledger::Store& store,
                                                       const std::string& name);

/// The part that a plate's own name speaks of, in one of the languages: "Wren top", "Decke 12".
/// Nothing where it speaks of none, or of two.
std::optional<modes::Part> part_named_in(const std::string& label);

/// A ledger to read in. Faults where there is none yet: reading must not make one.
base::Result<ledger::Store> open_to_read(const std::filesystem::path& folder);
/// A ledger to change, made where there is none; it may be read-only all the same
/// (Store::read_only). Both say on standard error what became of its files, where another program
/// exchanged them.
ledger::Store open_to_write(const std::filesystem::path& folder);
/// The same; base::Failure where it can only be read. `not_done`: "Nothing was stored."
ledger::Store open_to_change(const std::filesystem::path& folder, std::string_view not_done);

/// Once a command has ended: lays a copy aside of the database that open_to_write() opened, and
/// complains where that fails. Nothing where none was opened.
void lay_copy_of_written_aside();

/// The session that a reference's name, or else another plate's newest session, stands for.
base::Result<ledger::Id> reference_session(const ledger::Store& store, const std::string& name);

/// Index of the session meant: its number, its date (2026-03-14 or 14.3.2026), or nothing for the
/// newest. Fault: none, or several on that day, with what there is.
base::Result<std::size_t> find_session(const ledger::PlateHistory& history,
                                       const std::string& name);

/// The one wood of this name or id; where there is none, the wood of the plate of that name. A
/// Fault says what there is.
base::Result<ledger::WoodHistory> find_wood(const ledger::Store& store, const std::string& name);

} // namespace platewright::cli
