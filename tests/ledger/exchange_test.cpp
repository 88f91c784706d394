// Files of an open ledger exchanged, deleted or written over by other programs: as programs do that
// keep folders alike on several machines, and people who put a folder back from a copy.
#include "base/failure.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/standing.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <csignal>
#include <fstream>
#include <sys/wait.h>
#include <unistd.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

constexpr const char* k_database = "ledger.sqlite";

/// The bytes of a file into another that is there already: its place on the disk stays the same.
void write_over(const fs::path& from, const fs::path& to) {
    std::ifstream in{from, std::ios::binary};
    const std::string bytes{std::istreambuf_iterator<char>(in), {}};
    std::ofstream{to, std::ios::binary | std::ios::trunc} << bytes;
}

/// A copy of the database as it is at this moment, made as the daily copy is.
void copy_database(const fs::path& ledger, const fs::path& to) {
    Database{ledger / k_database, Database::Access::read_only}.copy_to(to);
}

std::size_t taps_in(const fs::path& ledger, Id plate = 1) {
    return Store{ledger, Access::read_only}.history(plate)->sessions.at(0).taps.size();
}

struct Scene {
    TemporaryFolder folder;
    fs::path place = folder.path() / "ledger", older = folder.path() / "older.sqlite";
};

/// All taps are in the ledger again, with their recordings, also for the next program.
void check_kept(const fs::path& place, std::size_t taps) {
    const CheckReport report = check(place);
    CHECK(report.whole());
    CHECK(report.database.empty());
    CHECK(report.taps == static_cast<std::int64_t>(taps));
    CHECK(taps_in(place) == taps);
}

} // namespace

TEST_CASE("an older database put in an open one's place beside its newer journal loses no tap") {
    Scene scene;
    {
        Workshop workshop{scene.place};
        workshop.add_tap(1);
        copy_database(scene.place, scene.older);
        for (int number = 2; number < 8; ++number)
            workshop.add_tap(number);
        fs::rename(scene.older, scene.place / k_database);
        for (int number = 8; number < 12; ++number)
            workshop.add_tap(number);
        CHECK(workshop.store.history(workshop.plate)->sessions.at(0).taps.size() == 11);
        const auto told = workshop.store.take_notices();
        REQUIRE(told.size() == 1);
        CHECK_THAT(told[0],
                   ContainsSubstring("older copy") && ContainsSubstring("backups/open-at-"));
        CHECK(workshop.store.take_notices().empty());
    }
    check_kept(scene.place, 11);
}

TEST_CASE("a journal that was deleted under an open ledger loses no tap") {
    Scene scene;
    {
        Workshop workshop{scene.place};
        for (int number = 1; number < 4; ++number)
            workshop.add_tap(number);
        fs::remove(scene.place / "ledger.sqlite-wal");
        for (int number = 4; number < 25; ++number)
            workshop.add_tap(number);
    }
    check_kept(scene.place, 24);
}

TEST_CASE("a journal deleted under an open ledger that is killed then costs no tap after it") {
    Scene scene;
    const pid_t child = ::fork();
    if (child == 0) {
        Workshop workshop{scene.place};
        workshop.add_tap(1);
        fs::remove(scene.place / "ledger.sqlite-wal");
        for (int number = 2; number < 6; ++number)
            workshop.add_tap(number);
        ::kill(::getpid(), SIGKILL);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    REQUIRE(WIFSIGNALED(status));
    Store{scene.place}; // brings the journal in
    check_kept(scene.place, 5);
}

TEST_CASE("a whole folder put back from a copy gets back what was kept since the program began") {
    Scene scene;
    const fs::path copy = scene.folder.path() / "copy";
    {
        Workshop workshop{scene.place};
        workshop.add_tap(1);
        fs::copy(scene.place, copy, fs::copy_options::recursive);
        for (int number = 2; number < 7; ++number)
            workshop.add_tap(number);
        fs::remove_all(scene.place);
        fs::rename(copy, scene.place);
        workshop.add_tap(7);
        CHECK_FALSE(workshop.store.take_notices().empty());
        const auto taps = workshop.store.history(workshop.plate)->sessions.at(0).taps;
        REQUIRE(taps.size() == 7);
        for (const TapRecord& tap : taps)
            CHECK(workshop.store.load(tap).samples.size() == 4800);
    }
    check_kept(scene.place, 7);
}

TEST_CASE("an older copy written over an open database loses no tap") {
    Scene scene;
    {
        Workshop workshop{scene.place};
        workshop.add_tap(1);
        copy_database(scene.place, scene.older);
        for (int number = 2; number < 6; ++number)
            workshop.add_tap(number);
        write_over(scene.older, scene.place / k_database);
        for (int number = 6; number < 9; ++number)
            workshop.add_tap(number);
        CHECK_FALSE(workshop.store.take_notices().empty());
    }
    check_kept(scene.place, 8);
}

TEST_CASE("a database cut short is told plainly, and with a copy in its place nothing is lost") {
    for (const std::uintmax_t size : {0U, 4096U, 30'000U, 65'536U}) {
        CAPTURE(size);
        Scene scene;
        {
            Workshop workshop{scene.place};
            workshop.add_tap(1);
            copy_database(scene.place, scene.older);
            for (int number = 2; number < 5; ++number)
                workshop.add_tap(number);
            Database{scene.place / k_database, Database::Access::read_write}.checkpoint();
            fs::resize_file(scene.place / k_database, size);
            for (int attempt = 0; attempt < 3;
                 ++attempt) // nothing is acknowledged that is not kept
                CHECK_THROWS_WITH(workshop.add_tap(5),
                                  ContainsSubstring("cut short") && ContainsSubstring("backups"));
            write_over(scene.older, scene.place / k_database);
            workshop.add_tap(5);
        }
        check_kept(scene.place, 5);
    }
}

TEST_CASE(
    "a copy with other work in it is not written into, and what was open is laid aside whole") {
    Scene scene;
    const fs::path copy = scene.folder.path() / "copy";
    { const Workshop workshop{scene.place}; }
    fs::copy(scene.place, copy, fs::copy_options::recursive);
    {
        Store elsewhere{copy};
        elsewhere.add(some_tap(1, 50), some_sound(50));
    }
    Store store{scene.place};
    for (int number = 1; number < 4; ++number)
        store.add(some_tap(1, number), some_sound(number));
    fs::rename(copy / k_database, scene.place / k_database);
    for (int attempt = 0; attempt < 3; ++attempt)
        CHECK_THROWS_WITH(store.add(some_tap(1, 4), some_sound(4)),
                          ContainsSubstring("other work") && ContainsSubstring("backups/open-at-"));
    int copies = 0;
    for (const auto& entry : fs::directory_iterator{scene.place / "backups"})
        if (entry.path().filename().string().starts_with("open-at-")) {
            ++copies;
            Database aside{entry.path(), Database::Access::read_only};
            Statement count{aside, "SELECT count(*) FROM tap"};
            REQUIRE(count.step());
            CHECK(count.integer() == 3);
        }
    CHECK(copies == 1);
}

TEST_CASE("a copy that went on from what is open is gone on with") {
    Scene scene;
    const fs::path copy = scene.folder.path() / "copy";
    Workshop workshop{scene.place};
    workshop.add_tap(1);
    fs::copy(scene.place, copy, fs::copy_options::recursive);
    {
        Store elsewhere{copy};
        elsewhere.add(some_tap(1, 2), some_sound(2));
    }
    fs::copy(copy / "recordings", scene.place / "recordings",
             fs::copy_options::recursive | fs::copy_options::skip_existing);
    fs::rename(copy / k_database, scene.place / k_database);
    workshop.add_tap(3);
    CHECK(workshop.store.history(1)->sessions.at(0).taps.size() == 3);
}

TEST_CASE(
    "a stale journal of another copy beside a database does not damage it at the next opening") {
    Scene scene;
    const pid_t child = ::fork();
    if (child == 0) { // its journal stays, and its database is exchanged for an older one
        Workshop workshop{scene.place};
        copy_database(scene.place, scene.older);
        for (int number = 1; number < 120; ++number) {
            if (number == 100) // what is in the journal afterwards rests on what the file had then
                Database{scene.place / k_database, Database::Access::read_write}.checkpoint();
            workshop.add_tap(number);
        }
        ::kill(::getpid(), SIGKILL);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    REQUIRE(WIFSIGNALED(status));
    {
        Database older{scene.older, Database::Access::read_write};
        older.run(
            "CREATE TABLE filler (x); INSERT INTO filler VALUES (zeroblob(300000)); DROP TABLE "
            "filler; UPDATE instrument SET notes = 'of the older copy'");
    }
    fs::rename(scene.older, scene.place / k_database);
    Store store{scene.place};
    CHECK(store.overview().size() == 1);
    CHECK(check(scene.place).database.empty());
    store.add(some_tap(1, 50), some_sound(50));
}

TEST_CASE("how two copies of a ledger stand to each other is told from their runs and changes") {
    const Standing begun{"u", "a", 10, {}};
    const Standing later = one_on(one_on(begun, "b"), "b"), other = one_on(begun, "c");
    CHECK(later.changes == 12);
    CHECK(kinship(begun, begun) == Kinship::same);
    CHECK(kinship(begun, later) == Kinship::older);
    CHECK(kinship(later, begun) == Kinship::newer);
    CHECK(kinship(later, other) == Kinship::other);
    CHECK(kinship(one_on(begun, "a"), later) == Kinship::other); // it went on after b began from it
    CHECK(kinship(Standing{"v", "a", 10, {}}, begun) == Kinship::other);
    CHECK(kinship(Standing{"u", "", 0, {}}, one_on(Standing{"u", "", 0, {}}, "d")) ==
          Kinship::older);
}

TEST_CASE(
    "a standing comes back from the ledger as it was written, with two hundred runs at most") {
    const TemporaryFolder folder;
    { const Store store{folder.path()}; }
    Database database{folder.path() / k_database, Database::Access::read_write};
    Standing standing = read_standing(database);
    CHECK(standing.uid.size() == 32);
    for (int run = 0; run < 300; ++run)
        standing = one_on(standing, "run" + std::to_string(run));
    write_standing(database, standing);
    const Standing back = read_standing(database);
    CHECK(back.uid == standing.uid);
    CHECK(back.run == "run299");
    CHECK(back.changes == standing.changes);
    CHECK(back.before == standing.before);
    CHECK(back.before.size() == k_most_runs);
}
