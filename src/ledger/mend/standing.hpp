#pragma once
/// Where a ledger's database stands in its own history: by this a file that was put in its place is
/// judged, and a change that went nowhere is noticed.

#include "ledger/tables/database.hpp"

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace platewright::ledger {

/// Kept in the table `setting`, written anew with every change:
///   ledger.uid      by which a ledger is known wherever it lies
///   ledger.run      a random name of the program that changed it last, drawn at its opening
///   ledger.changes  how many changes were ever committed
///   ledger.runs     "name:changes" of the runs before, the last one last, at most k_most_runs
inline constexpr const char* k_uid_key = "ledger.uid";
struct Standing {
    std::string uid, run;
    std::int64_t changes = 0;
    std::vector<std::pair<std::string, std::int64_t>> before;
};

inline constexpr std::size_t k_most_runs = 200;

/// A ledger of a program that did not count yet stands at 0 of a run without name.
Standing read_standing(Database& database);
/// Within a transaction of the caller's.
void write_standing(Database& database, const Standing& standing);
/// The same after one more change by the run of this name.
Standing one_on(const Standing& standing, const std::string& run);

enum class Kinship {
    same,
    older, ///< all that it holds is in ours, which went on from there
    newer, ///< it went on from ours
    other, ///< both went on from something earlier, or it is another ledger
};
Kinship kinship(const Standing& there, const Standing& ours);

/// What a database's file holds by itself, without its journal; nothing where it can't be read or
/// is shorter than it says. Opens nothing that a lock hangs on. Cost: some 0.2 ms.
std::optional<Standing> standing_of_file(const std::filesystem::path& file);

/// A ledger's database looked at apart from the rest: copied into `folder`/backups/looked-at,
/// opened there and read through, so that nothing that lies beside it is touched.
/// Cost: a copy, and SQLite's full check.
/// Nothing where it is damaged, cut short, or no ledger. Fails: base::Failure where it can't be
/// copied.
std::optional<Standing> look_apart(const std::filesystem::path& folder, bool with_journal);

} // namespace platewright::ledger
