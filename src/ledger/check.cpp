#include "ledger/check.hpp"

#include "base/failure.hpp"
#include "ledger/database.hpp"
#include "ledger/file_safety.hpp"
#include "ledger/schema.hpp"
#include "ledger/unfit.hpp"

#include <algorithm>
#include <iterator>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;

std::vector<std::string> check_database(Database& database) {
    std::vector<std::string> faults;
    Statement integrity{database, "PRAGMA integrity_check"};
    while (integrity.step())
        if (std::string line = integrity.text(); line != "ok")
            faults.push_back(std::move(line));
    Statement strays{database, "PRAGMA foreign_key_check"};
    while (strays.step())
        faults.push_back("a row of " + strays.text() + " belongs to one that is not there");
    return faults;
}

std::int64_t rows_of(Database& database, const std::string& table) {
    Statement count{database, "SELECT count(*) FROM " + table};
    return count.step() ? count.integer() : 0;
}

std::vector<std::string> claimed_recordings(Database& database) {
    Statement rows{database, "SELECT hash FROM recording ORDER BY hash"};
    std::vector<std::string> hashes;
    while (rows.step())
        hashes.push_back(rows.text());
    return hashes;
}

std::vector<std::string> kept_recordings(const fs::path& folder) {
    std::vector<std::string> hashes;
    std::error_code error;
    for (const auto& entry : fs::recursive_directory_iterator{folder / "recordings", error})
        if (entry.path().extension() == ".flac" &&
            entry.path().parent_path().filename() != "incoming")
            hashes.push_back(entry.path().stem().string());
    std::ranges::sort(hashes);
    return hashes;
}

} // namespace

bool is_what_its_name_says(const fs::path& file, const std::string& hash) {
    try {
        return sha256_hex(read_whole(file)) == hash;
    } catch (const base::Failure&) {
        return false; // what cannot be read is damaged, and the check goes on
    }
}

std::vector<std::string> unclaimed_recordings(Database& database, const fs::path& folder) {
    std::vector<std::string> unclaimed;
    std::ranges::set_difference(kept_recordings(folder), claimed_recordings(database),
                                std::back_inserter(unclaimed));
    return unclaimed;
}

CheckReport check(const fs::path& folder, const std::function<bool(double)>& progress) {
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    constexpr std::int64_t k_first_with_wood = 3;
    const bool has_wood = schema_version(database) >= k_first_with_wood;
    CheckReport report;
    report.database = check_database(database);
    report.unfit = unfit(database);
    report.taps = rows_of(database, "tap") + (has_wood ? rows_of(database, "wood_tap") : 0);
    const std::vector<std::string> claimed = claimed_recordings(database);
    const std::vector<std::string> kept = kept_recordings(folder);
    report.recordings = std::ssize(kept);
    std::ranges::set_difference(claimed, kept, std::back_inserter(report.missing));
    std::ranges::set_difference(kept, claimed, std::back_inserter(report.unclaimed));
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const fs::path file = folder / "recordings" / kept[i].substr(0, 2) / (kept[i] + ".flac");
        if (!is_what_its_name_says(file, kept[i]))
            report.damaged.push_back(kept[i]);
        if (progress && !progress(static_cast<double>(i + 1) / static_cast<double>(kept.size())))
            break;
    }
    return report;
}

} // namespace platewright::ledger
