#pragma once
#include "base/clock.hpp"

#include <chrono>
#include <cstdint>
#include <filesystem>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::ledger {

/// A copy of a ledger's database that lies in its folder.
struct LaidCopy {
    enum class Kind {
        regular,       ///< laid aside as the ledger was used
        before_change, ///< before tables changed, or a bundle's word replaced the ledger's
        replaced,      ///< what lay in a restored copy's place, or was damaged
    };
    std::string name; ///< by which it is asked for
    std::filesystem::path file;
    Kind kind = Kind::regular;
    /// Of regular ones, rising by one each; 0: of the time when days named them. Of replaced ones,
    /// within their day.
    std::int64_t number = 0;
    std::optional<base::Timestamp> made; ///< by the clock of then
    std::uintmax_t bytes = 0;
};

/// Copies of the database, laid aside as the ledger is used and thinned as they age. Recordings are
/// not copied: they are never changed once written.
struct BackupParams {
    int newest = 5;  ///< so many stay whatever their age
    int days = 7;    ///< then the newest of each day, this long
    int weeks = 8;   ///< then the newest of each week, this long
    int months = 24; ///< then the newest of each month, this long; then the newest of each year
    int most_dropped = 3; ///< at one time, so that a clock gone wrong can't sweep them away
};

/// Whether SQLite finds the ledger's database whole; its quick check, which reads all of it but
/// does not compare indexes. Fails: base::Failure where it can't be opened. Cost: about 0.3 s per
/// 100 MB. Threads: any, beside a Store on the same folder.
bool is_whole(const std::filesystem::path& folder);
/// The same of a copy, which nothing else has open. False too where it is no ledger that can be
/// read.
bool is_whole_database(const std::filesystem::path& copy);

/// Lays a copy into the ledger's folder `backups`, as `copy-000123-2026-03-14T09.26.sqlite` (a
/// number that rises by one each, and the moment by UTC), and removes those that are due to go;
/// nothing when nothing was changed since the newest. Copies made before a change of schema stay
/// for good. Fails: base::Failure; the ledger and its earlier copies are then as they were. Cost:
/// reads the whole database and the newest copy, about 1 s per 300 MB. Threads: any, beside a Store
/// on the same folder.
std::optional<std::filesystem::path> back_up(const std::filesystem::path& folder,
                                             base::Timestamp now, const BackupParams& params = {});

/// Which of the copies go, by their places in the list, which is in their own order, oldest first.
/// A day that does not fit the longest run of days that never go back is of a clock gone wrong, and
/// is taken for the next one's. Ages count from the newest copy, not from today. Pure.
std::vector<std::size_t> copies_to_drop(std::span<const std::chrono::sys_days> in_order,
                                        const BackupParams& params = {});

/// All copies that lie in a ledger's folder, the newest first; replaced ones last.
std::vector<LaidCopy> copies_in(const std::filesystem::path& folder);

} // namespace platewright::ledger
