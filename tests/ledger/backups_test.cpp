#include "base/failure.hpp"
#include "ledger/backups.hpp"
#include "ledger/check.hpp"
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

TEST_CASE("one copy a day is laid aside while the ledger is in use, and it is a whole ledger") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    const auto copy = back_up_if_due(folder.path(), k_noon);
    REQUIRE(copy);
    CHECK(copy->filename() == "2026-03-14.sqlite");
    workshop.add_tap(2);
    CHECK_FALSE(back_up_if_due(folder.path(), {k_noon.ms_since_epoch + 1000}));
    CHECK(back_up_if_due(folder.path(), {k_noon.ms_since_epoch + k_day_ms}));

    std::filesystem::create_directory(folder.path() / "restored");
    std::filesystem::copy(*copy, folder.path() / "restored" / "ledger.sqlite");
    const Store restored{folder.path() / "restored"};
    CHECK(restored.history(workshop.plate)->sessions[0].taps.size() == 1);
}

TEST_CASE("a copy that cannot be made leaves neither half a copy nor the day marked as done") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    std::filesystem::create_directories(folder.path() / "backups" / "unfinished" / "in the way");
    CHECK_THROWS_AS(back_up_if_due(folder.path(), k_noon), base::Failure);
    std::filesystem::remove_all(folder.path() / "backups" / "unfinished");
    CHECK(back_up_if_due(folder.path(), k_noon));
    CHECK_THROWS_AS(back_up_if_due(folder.path() / "none", k_noon), base::Failure);
}

TEST_CASE("copies thin out: a week of days, two months of weeks, two years of months, then years") {
    const ch::sys_days first = ch::year{2020} / 1 / 1, last = ch::year{2026} / 3 / 14;
    std::vector<ch::sys_days> kept;
    for (ch::sys_days day = first; day <= last; day += ch::days{1}) {
        kept.push_back(day);
        for (const ch::sys_days gone : days_to_drop(kept, day))
            std::erase(kept, gone);
    }
    const auto within = [&](int from_days, int to_days) {
        return std::ranges::count_if(kept, [&](ch::sys_days day) {
            const auto age = (last - day).count();
            return age >= from_days && age < to_days;
        });
    };
    CHECK(within(0, 7) == 7);
    CHECK(within(7, 56) >= 7);
    CHECK(within(7, 56) <= 9);
    CHECK(within(56, 744) >= 21);
    CHECK(within(56, 744) <= 25);
    CHECK(within(744, 10'000) == 4); // the last copies of 2020 to 2023
    CHECK(kept.front() == ch::sys_days{ch::year{2020} / 12 / 31});
}

TEST_CASE("copies from before a change of schema, and files of the maker's own, are left alone") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const auto backups = folder.path() / "backups";
    std::filesystem::create_directory(backups);
    for (const char* name : {"before-schema-2-at-1773489600000.sqlite", "2019-01-01 mine.sqlite",
                             "2019-01-01.sqlite", "2019-01-02.sqlite"})
        std::ofstream{backups / name} << "x";
    CHECK(back_up_if_due(folder.path(), k_noon));
    CHECK(std::filesystem::exists(backups / "before-schema-2-at-1773489600000.sqlite"));
    CHECK(std::filesystem::exists(backups / "2019-01-01 mine.sqlite"));
    CHECK_FALSE(std::filesystem::exists(backups / "2019-01-01.sqlite"));
    CHECK(std::filesystem::exists(backups / "2019-01-02.sqlite"));
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
