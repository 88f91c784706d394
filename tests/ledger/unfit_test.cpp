// A ledger that another hand was at, or a later program: used as far as it can be, told by the
// check.
#include "base/failure.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/tables/database.hpp"
#include "ledger/tables/unfit.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <cstdlib>
#include <fstream>
#include <sys/stat.h>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

struct Spoilt {
    explicit Spoilt(const std::string& sql) {
        {
            Workshop workshop{folder.path()};
            workshop.add_tap(1);
            workshop.add_tap(2);
        }
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        database.run(sql);
    }
    TemporaryFolder folder;
};

std::string joined(const std::vector<std::string>& lines) {
    std::string all;
    for (const std::string& line : lines)
        all += line + "\n";
    return all;
}

} // namespace

TEST_CASE("a trigger hidden in a ledger changes nothing: it is only read, and the check tells") {
    const Spoilt spoilt{
        "CREATE TRIGGER quiet AFTER INSERT ON session BEGIN UPDATE session SET mass_g = 1; END"};
    Store store{spoilt.folder.path()};
    CHECK(store.read_only());
    CHECK_THAT(store.why_read_only(), ContainsSubstring("tables are not as"));
    CHECK_THROWS_AS(store.add(some_session(1, 1)), base::Failure);
    CHECK(store.history(1)->sessions.at(0).session.mass_g == Approx(71.25));
    const CheckReport report = check(spoilt.folder.path());
    CHECK_FALSE(report.whole());
    CHECK_THAT(joined(report.unfit),
               ContainsSubstring("trigger “quiet” is not of this program's making"));
}

TEST_CASE("tables and columns that are lacking or changed are told and not written to") {
    for (const auto& [sql, words] : std::vector<std::pair<const char*, const char*>>{
             {"DROP TABLE pin", "table “pin” is lacking"},
             {"ALTER TABLE session DROP COLUMN humidity_pct", "table “session” is not as"},
             {"DROP INDEX tap_by_session", "index “tap_by_session” is lacking"},
             {"CREATE VIEW all_taps AS SELECT * FROM tap", "view “all_taps” is not of"},
             {"DROP TABLE mode_spot; CREATE TABLE mode_spot (mode, spot, level_db, level_sd_db, "
              "taps)",
              "table “mode_spot” is not as"}}) {
        CAPTURE(sql);
        const Spoilt spoilt{sql};
        CHECK(Store{spoilt.folder.path()}.read_only());
        CHECK_THAT(joined(check(spoilt.folder.path()).unfit), ContainsSubstring(words));
    }
}

TEST_CASE("a table of another program beside ours is told and does no harm") {
    const Spoilt spoilt{"CREATE TABLE copies (a, b)"};
    CHECK_FALSE(Store{spoilt.folder.path()}.read_only());
    CHECK_THAT(joined(check(spoilt.folder.path()).unfit), ContainsSubstring("table “copies”"));
}

TEST_CASE("a whole ledger has nothing unfit in it") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(1);
    CHECK(check(folder.path()).unfit.empty());
}

TEST_CASE("words that this program does not know are left out or read as unknown, and told") {
    const Spoilt spoilt{
        "INSERT INTO plate (instrument, part, label, wood, notes, created_ms) VALUES (1, 'lid', "
        "'Lid', '', '', 1);"
        "INSERT INTO session (plate, begun_ms, stage, notes) VALUES (1, 5, 'polished', '');"
        "UPDATE tap SET spot = 'under_the_chin' WHERE id = 1; UPDATE tap SET verdict = 'odd' WHERE "
        "id = 2;"
        "UPDATE instrument SET kind = 'violone'"};
    Store store{spoilt.folder.path()};
    REQUIRE_FALSE(store.read_only());
    const auto overview = store.overview();
    REQUIRE(overview.size() == 1);
    CHECK(overview[0].instrument.kind == modes::InstrumentKind::other);
    CHECK(overview[0].plates.size() == 1);
    CHECK_FALSE(store.history(2));
    CHECK(store.find_plates("Lid").empty());
    const auto history = store.history(1);
    REQUIRE(history);
    REQUIRE(history->sessions.size() == 1);
    REQUIRE(history->sessions[0].taps.size() == 1);
    CHECK(history->sessions[0].taps[0].spot == taps::Spot::unknown);
    store.add(some_tap(1, 3), some_sound(3)); // it goes on
    const CheckReport report = check(spoilt.folder.path());
    CHECK_FALSE(report.whole());
    CHECK(report.unfit.size() == 5);
    CHECK_THAT(joined(report.unfit),
               ContainsSubstring("the word “lid” in the column part of 1 row"));
}

TEST_CASE("a row that is at odds with its recording is not believed, and what can't be is told") {
    for (const char* change :
         {"onset_index = -1", "onset_index = 9223372036854775807", "onset_index = 4800",
          "sample_rate_hz = 0", "sample_rate_hz = 96000"}) {
        CAPTURE(change);
        const Spoilt spoilt{std::string{"UPDATE tap SET "} + change};
        const Store store{spoilt.folder.path()};
        const auto history = store.history(1);
        for (const TapRecord& record : history->sessions.at(0).taps) {
            const taps::Tap tap = store.load(record);
            CHECK(tap.onset_index == 480);
            CHECK(tap.sample_rate_hz == 48000);
        }
        const CheckReport report = check(spoilt.folder.path());
        CHECK_FALSE(report.whole());
        CHECK_THAT(joined(report.unfit), ContainsSubstring("2 rows of the table tap"));
    }
}

TEST_CASE("a view in a table's place that never ends is given up") {
    const Spoilt spoilt{
        "DROP TABLE naming; CREATE VIEW naming (id, session, frequency_hz, number, said_ms) AS "
        "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) "
        "SELECT i, 1, 1.0, 1, 1 FROM n WHERE i < 0"};
    const Store store{spoilt.folder.path()};
    CHECK(store.read_only());
    CHECK_THROWS_WITH(store.history(1), ContainsSubstring("sensible time"));
}

TEST_CASE("a text of four million letters is read cut, and one of eighty million is refused") {
    const Spoilt spoilt{"UPDATE session SET notes = printf('%.*c', 4000000, 'ä')"};
    CHECK(Store{spoilt.folder.path()}.history(1)->sessions.at(0).session.notes.size() <=
          k_longest_text);
    const Spoilt plain{"UPDATE session SET notes = 'x'"};
    const std::string file = (plain.folder.path() / "ledger.sqlite").string();
    // By SQLite's own shell: no connection of ours writes so much.
    const std::string huge =
        "sqlite3 " + file + " \"UPDATE session SET notes = printf('%.*c', 80000000, 'x')\"";
    REQUIRE(std::system(huge.c_str()) == 0);
    CHECK_THROWS_WITH(Store{plain.folder.path()}.history(1), ContainsSubstring("never put there"));
    REQUIRE(std::system(("sqlite3 " + file + " \"UPDATE session SET notes = 'x'\"").c_str()) == 0);
    Store store{plain.folder.path()};
    auto session = some_session(1);
    session.id = 1;
    session.notes = std::string(k_longest_text + 1, 'x');
    CHECK_THROWS_WITH(store.update(session), ContainsSubstring("longer than a million"));
    session.notes = std::string(1000, 'x') + "\nsecond line";
    store.update(session);
    CHECK(store.history(1)->sessions.at(0).session.notes == session.notes);
}

TEST_CASE("letters that are no UTF-8 or act unseen are not kept, whoever brings them") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    for (const char* bad : {"a\xED\xA0\x80z", "a\xC0\xAFz", "a\xFFz", "a\x1B[31mz", "a\x07z",
                            "a\xC2\x9Bz", "a\u202Ez", "a\u200Bz"}) {
        CAPTURE(bad);
        auto session = some_session(workshop.plate);
        session.notes = bad;
        CHECK_THROWS_WITH(workshop.store.add(session), ContainsSubstring("can't be shown"));
        auto wood = WoodRecord{};
        wood.label = bad;
        CHECK_THROWS_WITH(workshop.store.add(wood), ContainsSubstring("can't be shown"));
    }
}

TEST_CASE(
    "a pipe and a folder in a recording's place are damaged recordings, and the check goes on") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const fs::path place = folder.path() / "recordings" / "aa";
    fs::create_directories(place / (std::string(64, 'a') + ".flac"));
    REQUIRE(::mkfifo((place / (std::string(62, 'a') + "bb.flac")).c_str(), 0644) == 0);
    const CheckReport report = check(folder.path());
    CHECK(report.damaged.size() == 2);
}
