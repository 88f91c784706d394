// Figures that changed without the program, and copies put back.
#include "base/failure.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/mend/seals.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/told.hpp"
#include "support/catch.hpp"

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("a figure that changed without the program is noticed, and taken from a copy where one "
          "has it") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        REQUIRE(back_up(folder.path(), base::now()));
        workshop.add_tap(2); // the copy lacks this one
    }
    CHECK(check(folder.path()).whole());
    const std::string before = told_in(folder.path());
    for (const char* change :
         {"UPDATE partial SET frequency_hz = frequency_hz + 0.5 WHERE reading = 1 AND place = 0",
          "UPDATE tap SET peak_dbfs = -3 WHERE id = 1", "UPDATE plate SET density_kg_m3 = 411",
          "UPDATE session SET mass_g = 71.26", "DELETE FROM partial WHERE reading = 1"}) {
        CAPTURE(change);
        {
            Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
            database.run(change);
        }
        const CheckReport report = check(folder.path());
        CHECK(report.changed.size() == 1);
        CHECK_FALSE(report.whole());
        const MendReport mended = mend(folder.path());
        CHECK_FALSE(mended.was_damaged);
        CHECK((mended.healed == 1 || mended.rows_from_copies > 0)); // a lost row, or a changed one
        CHECK(told_in(folder.path()) == before);
        CHECK(Store{folder.path()}.history(1)->sessions[0].taps[0].partials.at(0).frequency_hz ==
              151.0);
        CHECK(check(folder.path()).whole());
    }
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        database.run("UPDATE partial SET q = 1 WHERE reading = 2"); // of the tap that no copy has
    }
    CHECK(mend(folder.path()).found.taps == 1); // its recording has it
    CHECK(told_in(folder.path()) == before);
}

TEST_CASE("a changed figure is put right by the facts beside the recordings, and told where "
          "nothing knows it") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.store.name_mode(workshop.session, 311.0, 5);
    }
    const std::string before = told_in(folder.path());
    const auto change = [&folder] {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        database.run("UPDATE session SET mass_g = 17.25");
    };
    change();
    MendReport report = mend(folder.path());
    CHECK(report.healed == 1);
    CHECK(report.changed.empty());
    CHECK(told_in(folder.path()) == before);
    change();
    fs::remove_all(folder.path() / "recordings" / "facts");
    report = mend(folder.path());
    CHECK(report.healed == 0);
    CHECK(report.changed == std::vector<std::string>{"session 1"});
    CHECK(told_in(folder.path()) != before); // what it was can't be known, and that is said
}

TEST_CASE("what the program itself changes is never taken for damage") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    fill(workshop);
    CHECK(check(folder.path()).whole());
    workshop.store.unbin("tap", 3);
    workshop.store.set_modes(workshop.session, {some_mode(152.0, 2)});
    PlateRecord moved = some_plate(workshop.store.add(some_instrument()));
    moved.id = workshop.plate;
    workshop.store.update(moved);
    CHECK(check(folder.path()).whole());
    const TemporaryFolder other;
    workshop.store.write_bundle(other.path() / "all.zip", {});
    {
        Store store{other.path() / "ledger"};
        CHECK(store.take_bundle(other.path() / "all.zip"));
        workshop.store.name_mode(workshop.session, 152.0, 1);
        workshop.store.write_bundle(other.path() / "more.zip", {});
        CHECK(store.take_bundle(other.path() / "more.zip", {.prefer_bundle = true}));
    }
    CHECK(check(other.path() / "ledger").whole());
}

// Fowler, Noll and Vo's constants and the sum of "a", from memory of their published test vectors.
TEST_CASE("sums are those of FNV-1a over the bytes of a row") {
    CHECK(fnv_1a("") == 0xcbf29ce484222325U);
    CHECK(fnv_1a("a") == 0xaf63dc4c8601ec8cU);
    CHECK(fnv_1a("foobar") == 0x85944171f73967e8U);
}

TEST_CASE("a copy is put back, what was kept since comes with it, and all of that can be undone") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        REQUIRE(back_up(folder.path(), base::now()));
        workshop.add_tap(2);
        CHECK_THROWS_WITH(restore(folder.path(), "1"), ContainsSubstring("Another program"));
    }
    const std::string before = told_in(folder.path());
    CHECK_FALSE(restore(folder.path(), "2"));
    const auto plain = restore(folder.path(), "1", false);
    REQUIRE(plain);
    CHECK((*plain).copy.number == 1);
    CHECK(Store(folder.path(), Access::read_only).history(1)->sessions[0].taps.size() == 1);
    const auto copies = copies_in(folder.path());
    REQUIRE(copies.size() == 2);
    CHECK(copies[1].kind == LaidCopy::Kind::replaced);
    REQUIRE(restore(folder.path(), copies[1].name, false)); // undone
    CHECK(told_in(folder.path()) == before);
    const auto mended = restore(folder.path(), "copy-000001-" + copies[0].name.substr(12));
    REQUIRE(mended);
    CHECK((*mended).found.taps == 1);
    CHECK(told_in(folder.path()) == before);
    fs::resize_file(copies[0].file, 5000);
    CHECK_FALSE(restore(folder.path(), "1"));
    CHECK(told_in(folder.path()) == before);
    lose_database(folder.path(), false);
    CHECK(restore(folder.path(), copies[1].name)); // with the disk's database gone
    CHECK(told_in(folder.path()) == before);
}
