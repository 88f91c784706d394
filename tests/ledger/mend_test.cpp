// Nothing a maker kept is lost: a database that is gone, older, damaged or changed, brought back.
#include "base/failure.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/told.hpp"
#include "support/catch.hpp"

#include <fstream>
#include <regex>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("an empty ledger is not begun beside recordings, and it is said what to do") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
    }
    lose_database(folder.path());
    CHECK_THROWS_WITH(Store{folder.path()}, ContainsSubstring("check --mend"));
    CHECK_FALSE(fs::exists(folder.path() / "ledger.sqlite"));
    const TemporaryFolder empty;
    fs::create_directories(empty.path() / "recordings" / "incoming"); // what died while it was made
    CHECK_NOTHROW(Store{empty.path()});
}

TEST_CASE("with the database and its copies gone, all that was kept comes back from beside it") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        fill(workshop);
        SessionRecord late = workshop.store.history(workshop.plate)->sessions.at(0).session;
        late.mass_g = 70.0625; // typed after the taps, every digit of it
        late.notes = "weighed again; “warm”\nsecond line";
        workshop.store.update(late);
        workshop.store.bin("session", workshop.store.add(some_session(workshop.plate, 9)));
    }
    const std::string before = told_in(folder.path());
    lose_database(folder.path());
    const MendReport report = mend(folder.path());
    CHECK(report.was_gone);
    CHECK(report.laid_aside.empty());
    CHECK(report.found.instruments == 1);
    CHECK(report.found.plates == 1);
    CHECK(report.found.sessions == 3);
    CHECK(report.found.taps == 3);
    CHECK(report.found.strangers == 0);
    CHECK(report.found.facts_unreadable == 0);
    CHECK(told_in(folder.path()) == before);
    CHECK(check(folder.path()).whole());
    const RescueReport again = mend(folder.path()).found;
    CHECK(again.sessions + again.taps + again.corrected == 0);
}

TEST_CASE("recordings alone bring back plates, sessions, masses, stages, spots and verdicts") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        TapRecord refused = some_tap(workshop.session, 2);
        refused.verdict = taps::Verdict::struck_twice;
        workshop.store.add(refused, some_sound(2));
        SessionRecord later = some_session(workshop.plate, 4);
        later.notes = std::string(3000, 'x');
        const Id second = workshop.store.add(later);
        workshop.store.add(some_tap(second, 3), some_sound(3));
    }
    const std::string before = told_in(folder.path());
    lose_database(folder.path());
    fs::remove_all(folder.path() / "recordings" / "facts");
    const MendReport report = mend(folder.path());
    CHECK(report.found.sessions == 2);
    CHECK(report.found.taps == 3);
    std::string after = told_in(folder.path());
    const std::string cut = std::string(2000, 'x') + "…"; // a recording bears no novel
    REQUIRE(after.find(cut) != std::string::npos);
    after.replace(after.find(cut), cut.size(), std::string(3000, 'x'));
    CHECK(after == before);
    CHECK(check(folder.path()).whole());
}

TEST_CASE("with the morning's copy in its place, nothing is whole until the day's sessions are "
          "brought back") {
    const TemporaryFolder folder;
    fs::path copy;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        copy = *back_up(folder.path(), base::now());
        SessionRecord corrected = workshop.store.history(workshop.plate)->sessions.at(0).session;
        corrected.mass_g = 70.5;
        workshop.store.update(corrected);
        const Id other =
            workshop.store.add(PlateRecord{.instrument = workshop.instrument, .label = "Back I"});
        SessionRecord late = some_session(other, 5);
        late.mass_g = 88.125;
        workshop.store.add(some_tap(workshop.store.add(late), 4), some_sound(4));
    }
    const std::string before = told_in(folder.path());
    lose_database(folder.path(), false);
    fs::copy_file(copy, folder.path() / "ledger.sqlite");
    const CheckReport beside = check(folder.path());
    CHECK_FALSE(beside.whole());
    CHECK(beside.strangers.size() == 2); // a recording, and the facts of its session
    CHECK(beside.unclaimed.empty());     // told once
    const MendReport report = mend(folder.path());
    CHECK_FALSE(report.was_damaged);
    CHECK(report.found.sessions == 1);
    CHECK(report.found.taps == 1);
    CHECK(report.found.corrected == 1);
    CHECK(told_in(folder.path()) == before);
    CHECK(check(folder.path()).whole());
}

TEST_CASE("with an older copy in its place, what was put into the bin since lies there again, and "
          "what was taken out does not") {
    for (const bool was_binned : {false, true}) {
        const TemporaryFolder folder;
        fs::path copy;
        {
            Workshop workshop{folder.path()};
            const Id tap = workshop.add_tap(1);
            if (was_binned)
                workshop.store.bin("tap", tap);
            copy = *back_up(folder.path(), base::now());
            was_binned ? workshop.store.unbin("tap", tap) : workshop.store.bin("tap", tap);
        }
        const std::string before = told_in(folder.path());
        lose_database(folder.path(), false);
        fs::copy_file(copy, folder.path() / "ledger.sqlite");
        CHECK(told_in(folder.path()) != before);
        mend(folder.path());
        CHECK(told_in(folder.path()) == before);
    }
}

TEST_CASE(
    "where an older copy was worked on before it was mended, what it lacked still comes back") {
    const TemporaryFolder folder;
    fs::path copy;
    {
        Workshop workshop{folder.path()};
        copy = *back_up(folder.path(), base::now());
        workshop.store.set_target(workshop.plate, 5,
                                  352.0); // into the instrument's facts, and no copy
    }
    lose_database(folder.path(), false);
    fs::copy_file(copy, folder.path() / "ledger.sqlite");
    {
        Store store{folder.path()};
        PlateRecord plate = store.history(1)->plate;
        plate.notes = "said on the old copy";
        store.update(plate); // the instrument's facts are written anew
        CHECK(store.history(1)->targets.empty());
    }
    mend(folder.path());
    const auto history = Store(folder.path(), Access::read_only).history(1);
    REQUIRE(history->targets.size() == 1);
    CHECK(history->plate.notes == "said on the old copy");
}

TEST_CASE(
    "recordings from before there were facts are still put back into sessions that are known") {
    const TemporaryFolder folder;
    fs::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-4", folder.path(),
             fs::copy_options::recursive);
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        database.run(
            "DELETE FROM partial; DELETE FROM reading; DELETE FROM tap; DELETE FROM recording");
    }
    const RescueReport report = Store{folder.path()}.rescue();
    CHECK(report.taps == 3);
    CHECK(report.strangers == 0);
    const TemporaryFolder lost;
    fs::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-4", lost.path(),
             fs::copy_options::recursive);
    lose_database(lost.path());
    CHECK(mend(lost.path()).found.strangers == 3); // told, and never called whole
    CHECK_FALSE(check(lost.path()).whole());
}

TEST_CASE("facts that were damaged or made to harm are left, and the rest comes back") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        workshop.add_tap(1);
        workshop.store.add(some_session(workshop.plate, 3));
    }
    lose_database(folder.path());
    const fs::path facts = folder.path() / "recordings" / "facts";
    for (const auto& entry : fs::directory_iterator{facts})
        if (entry.path().filename().string().starts_with("instrument"))
            std::ofstream{entry.path()} << "{\"instrument\": {\"uid\": 7}}";
    std::ofstream{facts / "session-zz.json"} << "half a li";
    std::ofstream{facts / "wood-zz.json"} << std::string(1000, '[');
    const MendReport report = mend(folder.path());
    CHECK(report.found.facts_unreadable == 3);
    CHECK(report.found.sessions == 2);
    CHECK(report.found.taps == 1);
}

TEST_CASE("a bad page stops neither the check nor the way back") {
    const TemporaryFolder folder;
    {
        Workshop workshop{folder.path()};
        for (int number = 1; number <= 40; ++number)
            workshop.store.add(some_tap(workshop.session, number), some_sound(number, 600));
    }
    const std::string before = told_in(folder.path());
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_only};
        Statement root{database, "SELECT rootpage FROM sqlite_schema WHERE name = 'session'"};
        REQUIRE(root.step());
        std::fstream damage{folder.path() / "ledger.sqlite",
                            std::ios::in | std::ios::out | std::ios::binary};
        damage.seekp((root.integer() - 1) * 4096);
        damage << std::string(4096, '\x5a');
    }
    const CheckReport report = check(folder.path());
    CHECK_FALSE(report.database.empty());
    CHECK(report.taps == 40);
    CHECK(report.sessions == 0);
    CHECK(report.recordings == 40);
    const MendReport mended = mend(folder.path());
    CHECK(mended.was_damaged);
    CHECK(fs::exists(mended.laid_aside / "ledger.sqlite"));
    // by its day, for whoever looks for it later
    CHECK(std::regex_match(mended.laid_aside.filename().string(),
                           std::regex{"20\\d\\d-\\d\\d-\\d\\d-1"}));
    CHECK(told_in(folder.path()) == before);
    CHECK(check(folder.path()).whole());
}
