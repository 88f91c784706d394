#include "ledger/mend/check.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"
#include "ledger/mend/facts.hpp"
#include "ledger/mend/salvage.hpp"
#include "ledger/mend/seals.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/schema.hpp"
#include "ledger/tables/unfit.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <iterator>
#include <set>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;

constexpr std::int64_t k_first_with_wood = 3, k_first_with_seals = 5;

std::vector<std::string> check_database(Database& database) {
    std::vector<std::string> faults;
    try {
        Statement integrity{database, "PRAGMA integrity_check"};
        while (integrity.step())
            if (std::string line = integrity.text(); line != "ok")
                faults.push_back(std::move(line));
        Statement strays{database, "PRAGMA foreign_key_check"};
        while (strays.step())
            faults.push_back("a row of " + strays.text() + " belongs to one that is not there");
    } catch (const base::Failure& failure) {
        if (!database.has_failed())
            throw; // busy, or out of memory
        faults.push_back(failure.detail());
    }
    return faults;
}

std::int64_t rows_of(Database& database, const std::string& table) {
    Statement count{database, "SELECT count(*) FROM " + table};
    return count.step() ? count.integer() : 0;
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

bool is_tap_of_ours(const fs::path& file) {
    try {
        return label_from_text(decode_recording(read_whole(file)).description).has_value();
    } catch (const base::Failure&) {
        return false;
    }
}

/// A part for people: "tap 12, session of 2026-03-14, Wren back".
std::string words_for(Database& database, const PartName& part) {
    const std::string what = fmt::format("{} {}", part.table, part.id);
    const auto one = [&](const char* sql) {
        try {
            Statement row{database, sql, part.id};
            if (!row.step())
                return what + ", which is not there any more";
            const std::string label = row.text();
            const auto begun = row.maybe_integer();
            return begun ? fmt::format("{}: session of {}, {}", what, base::local_date({*begun}),
                                       label)
                         : fmt::format("{}: {}", what, label);
        } catch (const base::Failure&) {
            return what;
        }
    };
    const std::string with_plate = "FROM session s JOIN plate p ON p.id = s.plate WHERE s.id = ";
    if (part.table == "tap" || part.table == "mode_set")
        return one(fmt::format("SELECT p.label, s.begun_ms {}(SELECT session FROM {} WHERE id = ?)",
                               with_plate, part.table)
                       .c_str());
    if (part.table == "session")
        return one(("SELECT p.label, s.begun_ms " + with_plate + "?").c_str());
    if (part.table == "wood_test" || part.table == "wood_tap")
        return what;
    return one(fmt::format("SELECT label, NULL FROM {} WHERE id = ?", part.table).c_str());
}

void check_seals(Database& database, CheckReport& report) {
    constexpr std::size_t k_most = 1000; // where most are broken, more of them tell nothing
    Seals{database}.each_broken([&](const PartName& part, bool) {
        if (report.changed.size() < k_most)
            report.changed.push_back(words_for(database, part));
    });
}

/// What the rows of a readable database say. `version`: of its tables.
void count_rows(Database& database, std::int64_t version, CheckReport& report) {
    report.taps = rows_of(database, "tap") +
                  (version >= k_first_with_wood ? rows_of(database, "wood_tap") : 0);
    report.sessions = rows_of(database, "session");
}

void check_recordings(Database& database, const fs::path& folder,
                      const std::function<bool(double)>& progress, CheckReport& report) {
    const std::vector<std::string> claimed =
        database.texts("SELECT hash FROM recording ORDER BY hash");
    const std::vector<std::string> kept = kept_recordings(folder);
    report.recordings = std::ssize(kept);
    std::ranges::set_difference(claimed, kept, std::back_inserter(report.missing));
    for (const fs::path& facts : unclaimed_facts(database, folder))
        report.strangers.push_back(facts.filename().string());
    for (std::size_t i = 0; i < kept.size(); ++i) {
        const fs::path file = recording_file(folder, kept[i]);
        const bool is_claimed = std::ranges::binary_search(claimed, kept[i]);
        if (!is_what_its_name_says(file, kept[i]))
            report.damaged.push_back(kept[i]);
        else if (!is_claimed && is_tap_of_ours(file))
            report.strangers.push_back(kept[i]);
        if (!is_claimed && (report.strangers.empty() || report.strangers.back() != kept[i]))
            report.unclaimed.push_back(kept[i]);
        if (progress && !progress(static_cast<double>(i + 1) / static_cast<double>(kept.size())))
            break;
    }
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
    std::ranges::set_difference(kept_recordings(folder),
                                database.texts("SELECT hash FROM recording ORDER BY hash"),
                                std::back_inserter(unclaimed));
    return unclaimed;
}

std::vector<fs::path> unclaimed_facts(Database& database, const fs::path& folder) {
    std::set<std::string> known;
    for (std::string& uid : database.texts("SELECT uid FROM session"))
        known.insert("session-" + std::move(uid));
    std::vector<fs::path> files = facts_files(folder);
    std::erase_if(files, [&known](const fs::path& file) {
        const std::string name = file.stem().string();
        return !name.starts_with("session-") || known.contains(name);
    });
    return files;
}

bool holds_recordings(const fs::path& folder) {
    return !kept_recordings(folder).empty() || !facts_files(folder).empty();
}

CheckReport check(const fs::path& folder, const std::function<bool(double)>& progress) {
    CheckReport report;
    std::int64_t version = 0;
    auto database =
        std::make_unique<Database>(folder / "ledger.sqlite", Database::Access::read_only);
    try {
        version = schema_version(*database);
    } catch (const base::Failure& failure) {
        if (!database->has_failed())
            throw; // another program's, or a newer one
        report.database.push_back(failure.detail());
    }
    if (report.database.empty())
        report.database = check_database(*database);
    if (!report.database.empty()) { // what can be read of it is looked at in its place
        auto readable = std::make_unique<Database>(k_in_memory, Database::Access::read_write);
        migrate(*readable, {});
        pour_rows(*database, *readable);
        count_rows(*readable, k_first_with_seals, report);
        check_recordings(*readable, folder, progress, report);
        return report;
    }
    report.unfit = unfit(*database);
    count_rows(*database, version, report);
    if (version >= k_first_with_seals)
        check_seals(*database, report);
    check_recordings(*database, folder, progress, report);
    return report;
}

} // namespace platewright::ledger
