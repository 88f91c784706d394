#pragma once
/// Coming back from damage: copies of the database put back, a damaged one read row by row, a lost
/// one made again from its copies and recordings.

#include "base/result.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/store.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::ledger {

struct MendReport {
    bool was_damaged = false, was_gone = false; ///< the database
    std::filesystem::path laid_aside;           ///< folder that holds the damaged one now
    std::int64_t rows_read = 0;                 ///< of it
    std::vector<std::string> copies;            ///< that gave what it lacked, by name
    std::int64_t rows_from_copies = 0;
    std::vector<std::string>
        changed;        ///< parts that are still not as they were sealed, by table and id
    int healed = 0;     ///< parts that were not, and are again
    RescueReport found; ///< in facts and recordings
};

/// Brings the ledger in a folder back to all that its database, its copies and its recordings hold
/// together. A whole database stays, and gets what lies beside it (Store::rescue). A damaged one is
/// kept aside, in `laid-aside/`; a new one takes its readable rows, then those of its newest whole
/// copies, then what the recordings say. Fails: base::Failure where another program has the ledger
/// open, or the disk fails; what was there before is then still there, in its place or aside. Cost:
/// reads all there is, twice.
MendReport mend(const std::filesystem::path& folder);

struct RestoreReport {
    LaidCopy copy;
    std::filesystem::path
        laid_aside; ///< folder that holds what it replaced; empty: there was nothing
    RescueReport found;
};

/// Puts a copy (backups.hpp) in the place of the database, which is laid aside and can be put back
/// the same way; `also_mend`: then brings back what was kept since, from facts and recordings.
/// `name`: a copy's name or number. Fault: no such copy, or one that is damaged; nothing was
/// changed then. Fails: base::Failure as mend().
base::Result<RestoreReport> restore(const std::filesystem::path& folder, std::string_view name,
                                    bool also_mend = true);

} // namespace platewright::ledger
