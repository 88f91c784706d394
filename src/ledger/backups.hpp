#pragma once
#include "base/clock.hpp"

#include <chrono>
#include <filesystem>
#include <optional>
#include <span>
#include <vector>

namespace platewright::ledger {

/// Copies of the database, one for each day the ledger was used, thinned as they age. Recordings
/// are not copied: they are never changed once written.
struct BackupParams {
    int days = 7;    ///< every daily copy is kept this long
    int weeks = 8;   ///< then the newest of each week, this long
    int months = 24; ///< then the newest of each month, this long; then the newest of each year
};

/// Whether SQLite finds the ledger's database whole; its quick check, which reads all of it but does
/// not compare indexes. Fails: base::Failure where it can't be opened. Cost: about 0.3 s per 100 MB.
/// Threads: any, beside a Store on the same folder.
bool is_whole(const std::filesystem::path& folder);

/// Lays today's copy (by UTC) into the ledger's folder `backups`, as `2026-03-14.sqlite`, and
/// removes those that are due to go; nothing when today's is there already. Copies made before a
/// change of schema stay for good. Fails: base::Failure; the ledger and its earlier copies are then
/// as they were. Cost: reads the whole database, about 1 s per 500 MB. Threads: any, beside a Store
/// on the same folder.
std::optional<std::filesystem::path> back_up_if_due(const std::filesystem::path& folder,
                                                    base::Timestamp now,
                                                    const BackupParams& params = {});

/// Which of the days that have a copy lose it. Pure.
std::vector<std::chrono::sys_days> days_to_drop(std::span<const std::chrono::sys_days> days,
                                                std::chrono::sys_days today,
                                                const BackupParams& params = {});

} // namespace platewright::ledger
