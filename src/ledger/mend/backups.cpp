#include "ledger/mend/backups.hpp"

#include "base/failure.hpp"
#include "base/text.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/schema.hpp"

#include <algorithm>
#include <fmt/format.h>
#include <fstream>
#include <set>
#include <string>
#include <tuple>

namespace platewright::ledger {
namespace {

namespace ch = std::chrono;
namespace fs = std::filesystem;

constexpr const char* k_ending = ".sqlite";
constexpr std::string_view k_regular = "copy-", k_before = "before-", k_at = "-at-";

ch::sys_days day_of(base::Timestamp moment) {
    return ch::floor<ch::days>(
        ch::sys_time<ch::milliseconds>{ch::milliseconds{moment.ms_since_epoch}});
}

/// "2026-03-14T09.26": as a file's name may be on any disk.
std::string moment_name(base::Timestamp moment) {
    constexpr std::size_t k_to_minutes = 16;
    std::string text = base::to_iso(moment).substr(0, k_to_minutes);
    std::ranges::replace(text, ':', '.');
    return text;
}

std::optional<base::Timestamp> moment_from(std::string_view text) {
    constexpr std::size_t k_date = 10, k_to_minutes = 16;
    if (text.size() == k_date)
        return base::from_iso(text);
    if (text.size() != k_to_minutes)
        return std::nullopt;
    std::string iso{text};
    std::ranges::replace(iso, '.', ':');
    return base::from_iso(iso + ":00Z");
}

/// What a file in `backups` is, by its name; nothing where it is none of ours.
std::optional<LaidCopy> copy_of(const fs::path& file) {
    if (file.extension() != k_ending)
        return std::nullopt;
    LaidCopy copy{.name = file.stem().string(), .file = file, .made = {}};
    std::string_view name = copy.name;
    if (name.starts_with(k_regular)) { // copy-000123-2026-03-14T09.26
        name.remove_prefix(k_regular.size());
        const auto number = base::parse_whole(name.substr(0, name.find('-')));
        copy.made = moment_from(name.substr(std::min(name.find('-'), name.size() - 1) + 1));
        copy.number = number.value_or(0);
        return number && copy.made ? std::optional{copy} : std::nullopt;
    }
    if (name.starts_with(k_before)) { // before-schema-4-at-1773489600000
        const auto at = name.rfind(k_at);
        const auto moment = at == std::string_view::npos
                                ? std::nullopt
                                : base::parse_whole(name.substr(at + k_at.size()));
        copy.kind = LaidCopy::Kind::before_change;
        if (moment)
            copy.made = base::Timestamp{*moment};
        return moment ? std::optional{copy} : std::nullopt;
    }
    copy.made = moment_from(name); // 2026-03-14: once a day, before version 5 of the tables
    return copy.made && name.size() == std::string_view{"2026-03-14"}.size() ? std::optional{copy}
                                                                             : std::nullopt;
}

/// Regular copies in their own order, oldest first.
std::vector<LaidCopy> regular_copies(const fs::path& folder) {
    std::vector<LaidCopy> copies;
    for (LaidCopy& copy : copies_in(folder))
        if (copy.kind == LaidCopy::Kind::regular)
            copies.push_back(std::move(copy));
    std::ranges::reverse(copies);
    return copies;
}

/// Of two files of the same size.
bool is_same(const fs::path& one, const fs::path& other) {
    constexpr std::size_t k_at_once = std::size_t{1} << 20U;
    std::ifstream a{one, std::ios::binary}, b{other, std::ios::binary};
    std::string of_a(k_at_once, '\0'), of_b(k_at_once, '\0');
    while (a && b) {
        a.read(of_a.data(), static_cast<std::streamsize>(k_at_once));
        b.read(of_b.data(), static_cast<std::streamsize>(k_at_once));
        const auto count = static_cast<std::size_t>(std::max<std::streamsize>(0, a.gcount()));
        if (a.gcount() != b.gcount() ||
            std::string_view{of_a}.substr(0, count) != std::string_view{of_b}.substr(0, count))
            return false;
    }
    return a.eof() && b.eof();
}

/// The days with those of a clock gone wrong taken for a neighbour's: of the longest run of copies
/// whose days never go back, each keeps its own; the others get that of the next of the run, or of
/// the last.
std::vector<ch::sys_days> likely_days(std::span<const ch::sys_days> in_order) {
    const std::size_t count = in_order.size();
    std::vector<std::size_t> length(count, 1), before(count, count);
    std::size_t last = 0; // of the run; the later one of two as long
    for (std::size_t i = 0; i < count; ++i) {
        for (std::size_t j = 0; j < i; ++j)
            if (in_order[j] <= in_order[i] && length[j] + 1 >= length[i])
                length[i] = length[j] + 1, before[i] = j;
        last = length[i] >= length[last] ? i : last;
    }
    std::vector<bool> is_in_run(count, false);
    for (std::size_t place = last; place < count; place = before[place])
        is_in_run[place] = true;
    std::vector<ch::sys_days> days(count);
    ch::sys_days day = in_order[last];
    for (std::size_t place = count; place-- > 0;) {
        day = is_in_run[place] ? in_order[place] : day;
        days[place] = day;
    }
    return days;
}

void drop_old(const fs::path& folder, const BackupParams& params) {
    const std::vector<LaidCopy> copies = regular_copies(folder);
    std::vector<ch::sys_days> days;
    for (const LaidCopy& copy : copies)
        days.push_back(day_of(*copy.made));
    std::error_code error; // one that stays does no harm
    for (const std::size_t place : copies_to_drop(days, params))
        fs::remove(copies[place].file, error);
}

bool passes(Database& database, const char* check) {
    try {
        Statement found{database, check};
        return found.step() && found.text() == "ok";
    } catch (const base::Failure&) {
        return !database
                    .has_failed(); // too damaged to be checked; busy or out of memory is no damage
    }
}

} // namespace

std::vector<std::size_t> copies_to_drop(std::span<const ch::sys_days> in_order,
                                        const BackupParams& params) {
    constexpr int k_days_in_week = 7, k_days_in_month = 31;
    std::vector<std::size_t> drop;
    if (in_order.empty())
        return drop;
    std::set<int> days, weeks, months, years;
    const std::vector<ch::sys_days> likely = likely_days(in_order);
    const ch::sys_days newest = likely.back();
    for (std::size_t place = likely.size(); place-- > 0;) {
        const ch::sys_days day = likely[place];
        const int age = static_cast<int>((newest - day).count());
        const int number = static_cast<int>(day.time_since_epoch().count());
        const ch::year_month_day date{day};
        const int year = static_cast<int>(date.year());
        const int month = year * 12 + static_cast<int>(static_cast<unsigned>(date.month()));
        // Each copy is the newest of its day, week, month and year, or it is not; all four are told
        // so.
        const bool newest_of_day = days.insert(number).second;
        const bool newest_of_week = weeks.insert(number / k_days_in_week).second;
        const bool newest_of_month = months.insert(month).second;
        const bool newest_of_year = years.insert(year).second;
        const bool keep = in_order.size() - place <= static_cast<std::size_t>(params.newest) ||
                          (age < params.days && newest_of_day) ||
                          (age < params.weeks * k_days_in_week && newest_of_week) ||
                          (age < params.months * k_days_in_month && newest_of_month) ||
                          newest_of_year;
        if (!keep)
            drop.push_back(place);
    }
    std::ranges::reverse(drop); // the oldest first
    if (drop.size() > static_cast<std::size_t>(params.most_dropped))
        drop.resize(static_cast<std::size_t>(params.most_dropped));
    return drop;
}

bool is_whole(const fs::path& folder) {
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    return passes(database, "PRAGMA quick_check(1)");
}

bool is_whole_database(const fs::path& copy) {
    try {
        Database database{copy, Database::Access::immutable};
        return schema_version(database) > 0 && passes(database, "PRAGMA integrity_check(1)");
    } catch (const base::Failure&) {
        return false;
    }
}

std::optional<fs::path> back_up(const fs::path& folder, base::Timestamp now,
                                const BackupParams& params) {
    const fs::path backups = folder / "backups";
    make_folder_durably(backups);
    const std::vector<LaidCopy> copies = regular_copies(folder);
    const fs::path unfinished = backups / "unfinished";
    std::error_code error;
    fs::remove(unfinished, error);
    try {
        Database{folder / "ledger.sqlite", Database::Access::read_only}.copy_to(unfinished);
    } catch (...) { // half a copy on a full disk would only take the room of what is to be kept
        fs::remove(unfinished, error);
        throw;
    }
    if (!copies.empty() && fs::file_size(unfinished, error) == copies.back().bytes &&
        is_same(unfinished, copies.back().file)) {
        fs::remove(unfinished, error);
        return std::nullopt;
    }
    const std::int64_t number = copies.empty() ? 1 : copies.back().number + 1;
    const fs::path file =
        backups / fmt::format("{}{:06}-{}{}", k_regular, number, moment_name(now), k_ending);
    rename_durably(unfinished, file);
    drop_old(folder, params);
    return file;
}

std::vector<LaidCopy> copies_in(const fs::path& folder) {
    std::vector<LaidCopy> copies;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator{folder / "backups", error})
        if (auto copy = copy_of(entry.path())) {
            copy->bytes = fs::file_size(entry.path(), error);
            copies.push_back(*std::move(copy));
        }
    for (const auto& entry : fs::directory_iterator{folder / "laid-aside", error}) {
        const fs::path file = entry.path() / "ledger.sqlite";
        if (!fs::exists(file, error))
            continue;
        const std::string place = entry.path().filename().string(); // 2026-03-14-1
        const std::size_t day = std::string_view{"2026-03-14"}.size();
        LaidCopy copy{.name = "laid-aside-" + place,
                      .file = file,
                      .kind = LaidCopy::Kind::replaced,
                      .made = {}};
        copy.made = moment_from(place.substr(0, day));
        copy.number = base::parse_whole(place.substr(std::min(day + 1, place.size()))).value_or(0);
        copy.bytes = fs::file_size(file, error);
        copies.push_back(std::move(copy));
    }
    const auto order = [](const LaidCopy& copy) {
        const auto made = copy.made ? copy.made->ms_since_epoch : 0;
        return copy.kind == LaidCopy::Kind::replaced ? std::tuple{0, made, copy.number, copy.name}
                                                     // numbered anew each day
                                                     : std::tuple{1, copy.number, made, copy.name};
    };
    std::ranges::sort(copies,
                      [&](const LaidCopy& a, const LaidCopy& b) { return order(a) > order(b); });
    return copies;
}

} // namespace platewright::ledger
