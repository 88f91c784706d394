#include "base/failure.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;
namespace ch = std::chrono;

namespace {

constexpr base::Timestamp k_noon{1'773'489'600'000}; // 2026-03-14T12:00:00Z
constexpr std::int64_t k_day_ms = 86'400'000;

std::filesystem::path recording_of(const std::filesystem::path& folder, const std::string& hash) {
    return folder / "recordings" / hash.substr(0, 2) / (hash + ".flac");
}

} // namespace

TEST_CASE("a copy is laid aside when something has changed, and it is a whole ledger") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    const auto copy = back_up(folder.path(), k_noon);
    REQUIRE(copy);
    CHECK(copy->filename() == "copy-000001-2026-03-14T12.00.sqlite");
    CHECK_FALSE(
        back_up(folder.path(), {k_noon.ms_since_epoch + k_day_ms})); // nothing happened since
    workshop.add_tap(2);
    CHECK(back_up(folder.path(), {k_noon.ms_since_epoch + 1000}));
    CHECK(copies_in(folder.path()).size() == 2);

    std::filesystem::create_directory(folder.path() / "restored");
    std::filesystem::copy(*copy, folder.path() / "restored" / "ledger.sqlite");
    const Store restored{folder.path() / "restored"};
    CHECK(restored.history(workshop.plate)->sessions[0].taps.size() == 1);
}

TEST_CASE("a copy that cannot be made leaves neither half a copy nor anything marked as done") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    std::filesystem::create_directories(folder.path() / "backups" / "unfinished" / "in the way");
    CHECK_THROWS_AS(back_up(folder.path(), k_noon), base::Failure);
    std::filesystem::remove_all(folder.path() / "backups" / "unfinished");
    CHECK(back_up(folder.path(), k_noon));
    CHECK_THROWS_AS(back_up(folder.path() / "none", k_noon), base::Failure);
}

namespace {

/// The days of the copies that are left after one was made on each of `days` in turn.
std::vector<ch::sys_days> left_after(const std::vector<ch::sys_days>& days,
                                     const BackupParams& params = {}) {
    std::vector<ch::sys_days> kept;
    for (const ch::sys_days day : days) {
        kept.push_back(day);
        const std::vector<std::size_t> gone = copies_to_drop(kept, params);
        CHECK(gone.size() <= 3);
        for (auto place = gone.rbegin(); place != gone.rend(); ++place)
            kept.erase(kept.begin() + static_cast<std::ptrdiff_t>(*place));
    }
    return kept;
}

} // namespace

TEST_CASE("copies thin out: the newest, a week of days, two months of weeks, two years of months, "
          "then years") {
    const ch::sys_days first = ch::year{2020} / 1 / 1, last = ch::year{2026} / 3 / 14;
    std::vector<ch::sys_days> days;
    for (ch::sys_days day = first; day <= last; day += ch::days{1})
        for (int session = 0; session < 3; ++session)
            days.push_back(day);
    const std::vector<ch::sys_days> kept = left_after(days);
    const auto within = [&](int from_days, int to_days) {
        return std::ranges::count_if(kept, [&](ch::sys_days day) {
            const auto age = (last - day).count();
            return age >= from_days && age < to_days;
        });
    };
    CHECK(within(0, 1) == 3);
    CHECK(within(0, 2) == 5);
    CHECK(within(2, 7) == 5);
    CHECK(within(7, 56) >= 7);
    CHECK(within(7, 56) <= 9);
    CHECK(within(56, 744) >= 21);
    CHECK(within(56, 744) <= 25);
    CHECK(within(744, 10'000) == 4); // the last copies of 2020 to 2023
    CHECK(kept.front() == ch::sys_days{ch::year{2020} / 12 / 31});
}

TEST_CASE("a clock set forward once, or back, sweeps no copies away") {
    std::vector<ch::sys_days> days;
    const ch::sys_days begin = ch::year{2026} / 1 / 1;
    for (int day = 0; day < 60; ++day)
        days.push_back(begin + ch::days{day});
    const std::size_t usual = left_after(days).size();
    for (const int years : {6, -6}) {
        CAPTURE(years);
        std::vector<ch::sys_days> wrong = days;
        wrong.push_back(begin + ch::days{60 + 365 * years});
        CHECK(left_after(wrong).size() + 3 >= usual);
        for (int day = 61; day < 70; ++day) // the clock is right again
            wrong.push_back(begin + ch::days{day});
        const std::vector<ch::sys_days> kept = left_after(wrong);
        CHECK(kept.size() >= usual);
        CHECK(std::ranges::count(kept, begin + ch::days{69}) == 1);
    }
}

TEST_CASE("copies are put in their own order, and each says what it is") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const auto backups = folder.path() / "backups";
    std::filesystem::create_directory(backups);
    for (const char* name :
         {"copy-000009-2031-01-01T08.00.sqlite", "copy-000010-2026-03-13T08.00.sqlite",
          "2026-03-12.sqlite", "2026-03-11.sqlite", "before-schema-2-at-1773489600000.sqlite",
          "2019-01-01 mine.sqlite", "unfinished"})
        std::ofstream{backups / name} << "x";
    const auto copies = copies_in(folder.path());
    REQUIRE(copies.size() == 5);
    CHECK(copies[0].number == 10);
    CHECK(copies[1].number == 9);
    CHECK(copies[2].kind == LaidCopy::Kind::before_change);
    CHECK(copies[3].name == "2026-03-12");
    const auto copy = back_up(folder.path(), k_noon);
    REQUIRE(copy);
    CHECK(copy->filename() == "copy-000011-2026-03-14T12.00.sqlite");
    for (const char* name : {"before-schema-2-at-1773489600000.sqlite", "2019-01-01 mine.sqlite"})
        CHECK(std::filesystem::exists(backups / name));
}

TEST_CASE("a whole ledger is found whole, and each kind of damage is found and named") {
    const TemporaryFolder folder;
    std::vector<std::string> hashes;
    {
        Workshop workshop{folder.path()};
        for (int number = 1; number <= 3; ++number)
            workshop.add_tap(number);
        const auto history = workshop.store.history(workshop.plate);
        for (const TapRecord& tap : history->sessions[0].taps)
            hashes.push_back(tap.recording);
        const CheckReport report = check(folder.path());
        CHECK(report.whole());
        CHECK(report.taps == 3);
        CHECK(report.recordings == 3);
        CHECK(report.unclaimed.empty());
    }
    std::filesystem::remove(recording_of(folder.path(), hashes[0]));
    std::ofstream{recording_of(folder.path(), hashes[1]), std::ios::app} << "x";
    const std::string stray(64, 'a');
    std::filesystem::create_directories(recording_of(folder.path(), stray).parent_path());
    std::filesystem::copy(recording_of(folder.path(), hashes[2]),
                          recording_of(folder.path(), stray));
    const CheckReport report = check(folder.path());
    CHECK_FALSE(report.whole());
    CHECK(report.strangers.empty());
    CHECK(report.missing == std::vector{hashes[0]});
    CHECK(report.damaged.size() == 2);
    CHECK(std::ranges::count(report.damaged, hashes[1]) == 1);
    CHECK(report.unclaimed == std::vector{stray});
    CHECK(report.database.empty());
    CHECK(std::filesystem::exists(recording_of(folder.path(), stray)));
}

TEST_CASE("a check can be stopped half way") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    workshop.add_tap(2);
    std::vector<double> shares;
    check(folder.path(), [&](double share) {
        shares.push_back(share);
        return false;
    });
    CHECK(shares == std::vector{0.5});
    CHECK_THROWS_AS(check(folder.path() / "none"), base::Failure);
}

TEST_CASE("a database with a torn page is found damaged") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        for (int number = 1; number <= 20; ++number)
            workshop.store.add(some_tap(workshop.session, number), some_sound(number, 600));
    }
    const auto file = folder.path() / "ledger.sqlite";
    {
        std::fstream damage{file, std::ios::in | std::ios::out | std::ios::binary};
        damage.seekp(static_cast<std::streamoff>(std::filesystem::file_size(file)) - 4096);
        damage << std::string(4096, '\xff');
    }
    bool found = false;
    try {
        found = !check(folder.path()).database.empty();
    } catch (const base::Failure& failure) {
        found = std::string{failure.what()}.find("damaged") != std::string::npos;
    }
    CHECK(found);
}
