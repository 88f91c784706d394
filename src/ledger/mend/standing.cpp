#include "ledger/mend/standing.hpp"

#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/tables/rows.hpp"
#include "ledger/tables/schema.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <fmt/format.h>
#include <string_view>
#include <system_error>

namespace platewright::ledger {
namespace {

namespace fs = std::filesystem;
using wording::say;

constexpr const char* k_run_key = "ledger.run";
constexpr const char* k_changes_key = "ledger.changes";
constexpr const char* k_runs_key = "ledger.runs";

std::int64_t number_or_0(std::string_view text) {
    std::int64_t value = 0;
    std::from_chars(text.data(), text.data() + text.size(), value);
    return value;
}

/// A place of its own for a database that is looked at; what an earlier look left goes first.
class Apart {
public:
    explicit Apart(const fs::path& ledger) : folder_{ledger / "backups" / "looked-at"} {
        clear();
        make_own_folder(folder_.parent_path());
        make_own_folder(folder_);
    }
    ~Apart() { clear(); }
    Apart(const Apart&) = delete;
    Apart& operator=(const Apart&) = delete;

    fs::path file() const { return folder_ / k_names[0]; }
    void take(const fs::path& ledger, bool with_journal) const {
        for (std::size_t i = 0; i < (with_journal ? 2U : 1U); ++i) {
            const fs::path from = ledger / k_names.at(i);
            std::error_code error;
            if (i > 0 && !fs::exists(from, error))
                continue;
            fs::copy_file(from, folder_ / k_names.at(i), error);
            if (error)
                fail_to_write(error.value(), folder_ / k_names.at(i));
        }
    }

private:
    static constexpr std::array<const char*, 3> k_names{"ledger.sqlite", "ledger.sqlite-wal",
                                                        "ledger.sqlite-shm"};
    void clear() const {
        std::error_code error; // what stays is cleared the next time
        if (fs::is_symlink(folder_, error))
            return;
        for (const char* name : k_names)
            fs::remove(folder_ / name, error);
        fs::remove(folder_, error);
    }
    fs::path folder_;
};

bool knows(const Standing& later, const Standing& earlier) {
    if (later.run == earlier.run)
        return later.changes >= earlier.changes;
    return std::ranges::any_of(later.before, [&](const auto& run) {
        return run.first == earlier.run && run.second >= earlier.changes;
    });
}

bool is_sound(Database& database) {
    Statement check{database, "PRAGMA integrity_check(1)"};
    return check.step() && check.text() == "ok";
}

} // namespace

Standing read_standing(Database& database) {
    const auto told = [&database](const char* key) { return setting(database, key).value_or(""); };
    Standing standing{told(k_uid_key), told(k_run_key), number_or_0(told(k_changes_key)), {}};
    const std::string runs = told(k_runs_key);
    for (std::string_view left = runs; !left.empty();) {
        const std::string_view one = left.substr(0, left.find(' '));
        const std::size_t colon = std::min(one.find(':'), one.size());
        standing.before.emplace_back(one.substr(0, colon),
                                     number_or_0(one.substr(std::min(colon + 1, one.size()))));
        left.remove_prefix(std::min(one.size() + 1, left.size()));
    }
    return standing;
}

void write_standing(Database& database, const Standing& standing) {
    std::string runs;
    for (const auto& [run, changes] : standing.before)
        runs += fmt::format("{}{}:{}", runs.empty() ? "" : " ", run, changes);
    set_setting(database, k_uid_key, standing.uid);
    set_setting(database, k_run_key, standing.run);
    set_setting(database, k_changes_key, fmt::format("{}", standing.changes));
    if (runs != setting(database, k_runs_key).value_or("")) // a few kB that change once a run
        set_setting(database, k_runs_key, runs);
}

Standing one_on(const Standing& standing, const std::string& run) {
    Standing next = standing;
    if (next.run != run) {
        next.before.emplace_back(standing.run, standing.changes);
        if (next.before.size() > k_most_runs)
            next.before.erase(next.before.begin());
        next.run = run;
    }
    ++next.changes;
    return next;
}

Kinship kinship(const Standing& there, const Standing& ours) {
    if (there.uid != ours.uid)
        return Kinship::other;
    const bool we_know_it = knows(ours, there), it_knows_us = knows(there, ours);
    if (we_know_it && it_knows_us)
        return Kinship::same;
    return we_know_it ? Kinship::older : it_knows_us ? Kinship::newer : Kinship::other;
}

std::optional<Standing> standing_of_file(const fs::path& file) {
    try {
        Database database{file, Database::Access::immutable};
        return read_standing(database);
    } catch (const base::Failure&) {
        return std::nullopt; // a checkpoint's half, or cut short
    }
}

std::optional<Standing> look_apart(const fs::path& folder, bool with_journal) {
    const Apart apart{folder};
    apart.take(folder, with_journal);
    try {
        Database database{apart.file(), Database::Access::read_write};
        if (schema_version(database) < 1 || !is_sound(database))
            return std::nullopt;
        return read_standing(database);
    } catch (const base::Failure&) {
        return std::nullopt;
    }
}

} // namespace platewright::ledger
