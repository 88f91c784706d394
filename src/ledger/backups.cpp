#include "ledger/backups.hpp"

#include "base/failure.hpp"
#include "ledger/database.hpp"
#include "ledger/file_safety.hpp"

#include <algorithm>
#include <functional>
#include <set>
#include <string>

namespace platewright::ledger {
namespace {

namespace ch = std::chrono;
namespace fs = std::filesystem;

constexpr const char* k_ending = ".sqlite";

ch::sys_days day_of(base::Timestamp moment) {
    return ch::floor<ch::days>(
        ch::sys_time<ch::milliseconds>{ch::milliseconds{moment.ms_since_epoch}});
}

base::Timestamp moment_of(ch::sys_days day) {
    return {ch::duration_cast<ch::milliseconds>(day.time_since_epoch()).count()};
}

fs::path name_of(ch::sys_days day) {
    constexpr std::size_t k_date = 10; // of 2026-03-14T00:00:00.000Z
    return base::to_iso(moment_of(day)).substr(0, k_date) + k_ending;
}

std::optional<ch::sys_days> day_of_copy(const fs::path& file) {
    const std::optional<base::Timestamp> moment = base::from_iso(file.stem().string());
    if (!moment || file.filename() != name_of(day_of(*moment)))
        return std::nullopt;
    return day_of(*moment);
}

} // namespace

std::vector<ch::sys_days> days_to_drop(std::span<const ch::sys_days> days, ch::sys_days today,
                                       const BackupParams& params) {
    std::vector<ch::sys_days> newest_first(days.begin(), days.end());
    std::ranges::sort(newest_first, std::greater{});
    constexpr int k_days_in_week = 7, k_days_in_month = 31;
    std::set<int> weeks, months, years;
    std::vector<ch::sys_days> drop;
    for (const ch::sys_days day : newest_first) {
        const int age = static_cast<int>((today - day).count());
        const int number = static_cast<int>(day.time_since_epoch().count());
        const ch::year_month_day date{day};
        const int year = static_cast<int>(date.year());
        const int month = year * 12 + static_cast<int>(static_cast<unsigned>(date.month()));
        // Each copy is the newest of its week, month and year, or it is not; all three are told so.
        const bool newest_of_week = weeks.insert(number / k_days_in_week).second;
        const bool newest_of_month = months.insert(month).second;
        const bool newest_of_year = years.insert(year).second;
        const bool keep =
            age < params.days || (age < params.weeks * k_days_in_week && newest_of_week) ||
            (age < params.months * k_days_in_month && newest_of_month) || newest_of_year;
        if (!keep)
            drop.push_back(day);
    }
    return drop;
}

bool is_whole(const fs::path& folder) {
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    try {
        Statement check{database, "PRAGMA quick_check(1)"};
        return check.step() && check.text() == "ok";
    } catch (const base::Failure&) {
        return !database
                    .has_failed(); // too damaged to be checked; busy or out of memory is no damage
    }
}

std::optional<fs::path> back_up_if_due(const fs::path& folder, base::Timestamp now,
                                       const BackupParams& params) {
    const fs::path backups = folder / "backups";
    const ch::sys_days today = day_of(now);
    const fs::path file = backups / name_of(today);
    std::error_code error;
    if (fs::exists(file, error))
        return std::nullopt;
    make_folder_durably(backups);
    const fs::path unfinished = backups / "unfinished";
    fs::remove(unfinished, error);
    Database{folder / "ledger.sqlite", Database::Access::read_only}.copy_to(unfinished);
    rename_durably(unfinished, file);

    std::vector<ch::sys_days> days;
    for (const auto& entry : fs::directory_iterator{backups, error})
        if (const auto day = day_of_copy(entry.path()))
            days.push_back(*day);
    for (const ch::sys_days day : days_to_drop(days, today, params))
        fs::remove(backups / name_of(day), error); // one that stays does no harm
    return file;
}

} // namespace platewright::ledger
