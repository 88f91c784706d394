#include "base/failure.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/tables/schema.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cstdlib>
#include <vector>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

/// Today's steps and those of a version to come.
std::vector<const char*> steps_and(std::initializer_list<const char*> more) {
    std::vector<const char*> steps(schema_steps().begin(), schema_steps().end());
    steps.insert(steps.end(), more);
    return steps;
}

std::vector<std::filesystem::path> files_in(const std::filesystem::path& folder) {
    std::error_code error;
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator{folder, error})
        files.push_back(entry.path());
    return files;
}

std::int64_t number(Database& database, const std::string& sql) {
    Statement row{database, sql};
    REQUIRE(row.step());
    return row.integer();
}

} // namespace

TEST_CASE("a new database gets the newest schema, marked as ours, with no backup of nothing") {
    const TemporaryFolder folder;
    Database database{folder.path() / "new.sqlite", Database::Access::read_write};
    CHECK(schema_version(database) == 0);
    migrate(database, folder.path() / "backups");
    CHECK(schema_version(database) == std::ssize(schema_steps()));
    CHECK(number(database, "PRAGMA application_id") == k_application_id);
    CHECK(files_in(folder.path() / "backups").empty());
}

TEST_CASE("an older ledger is brought up to date after a whole copy of it was laid aside") {
    const TemporaryFolder folder;
    Id plate = 0;
    {
        Workshop workshop{folder.path()};
        plate = workshop.plate;
        workshop.add_tap(1);
    }
    const auto newer = steps_and({"ALTER TABLE plate ADD COLUMN colour TEXT;",
                                  "UPDATE plate SET colour = 'amber'; CREATE TABLE extra (x);"});
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
    migrate(database, folder.path() / "backups", newer);
    CHECK(schema_version(database, newer) == std::ssize(newer));
    CHECK(number(database, "SELECT count(*) FROM plate WHERE colour = 'amber'") == 1);
    CHECK(number(database, "SELECT count(*) FROM tap") == 1);
    CHECK_THROWS_AS(schema_version(database), base::Failure); // today's program refuses it

    const auto copies = files_in(folder.path() / "backups");
    REQUIRE(copies.size() == 1);
    const auto restored = folder.path() / "restored";
    std::filesystem::create_directory(restored);
    std::filesystem::rename(copies[0], restored / "ledger.sqlite");
    const Store store{restored};
    CHECK(store.history(plate)->sessions[0].taps.size() == 1);

    migrate(database, folder.path() / "backups", newer); // nothing left to do, nothing copied
    CHECK(files_in(folder.path() / "backups").empty());
}

TEST_CASE("a step that fails leaves the ledger as it was, and usable") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const auto broken = steps_and({"CREATE TABLE fine (x);", "CREATE TABLE worse (x;"});
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        CHECK_THROWS_AS(migrate(database, folder.path() / "backups", broken), base::Failure);
        CHECK(schema_version(database) == std::ssize(schema_steps()));
        CHECK(number(database, "SELECT count(*) FROM sqlite_schema WHERE name = 'fine'") == 0);
    }
    const auto strays = steps_and({"UPDATE plate SET instrument = 99;"});
    {
        Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
        CHECK_THROWS_AS(migrate(database, folder.path() / "backups", strays), base::Failure);
    }
    CHECK(Store{folder.path()}.overview().size() == 1);
}

// tests/data/MANIFEST.md says what is in it and how it came to be.
TEST_CASE("a ledger written by schema 1 opens, with all that was in it") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-1", folder.path(),
                          std::filesystem::copy_options::recursive);
    Store store{folder.path()};
    REQUIRE_FALSE(store.read_only());
    const auto history = store.history(1);
    REQUIRE(history);
    CHECK(history->instrument.label == "Test violin");
    CHECK(history->plate.density_kg_m3 == 395.5);
    REQUIRE(history->sessions.size() == 2);
    const SessionHistory& session = history->sessions[0];
    CHECK(session.session.stage == modes::Stage::bar_fitted);
    CHECK(session.session.mass_g == 71.25);
    REQUIRE(session.taps.size() == 2);
    CHECK(session.taps[0].partials.size() == 2);
    CHECK(session.taps[0].analysis_version == "2");
    CHECK(session.taps[1].verdict == taps::Verdict::struck_twice);
    CHECK(store.load(session.taps[0]).samples.size() == 1200);
    REQUIRE(session.modes.size() == 2);
    CHECK(session.modes[1].name->by_maker);
    CHECK(session.modes[1].mode.spots.size() == 2);
    CHECK(store.references().at(0).label == "the good one");
    CHECK(store.setting("input.name") == "hw:1");
    store.unbin("tap", 3);
    CHECK(store.history(1)->sessions[0].taps.size() == 3);
    store.add(some_tap(2, 9), some_sound(9));
}

TEST_CASE("a ledger written by any schema before today's opens, is whole, and can be sent on") {
    for (std::ptrdiff_t schema = 1; schema < std::ssize(schema_steps()); ++schema) {
        CAPTURE(schema);
        const std::filesystem::path sample =
            PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-" + std::to_string(schema);
        REQUIRE(std::filesystem::exists(sample)); // made by [sample] before the next step is added
        const TemporaryFolder folder;
        std::filesystem::copy(sample, folder.path() / "old",
                              std::filesystem::copy_options::recursive);
        Store store{folder.path() / "old"};
        REQUIRE(store.history(1));
        CHECK(store.history(1)->sessions.at(0).taps.size() == 2);
        CHECK(store.history(1)->form.has_value() == (schema >= 2));
        CHECK(check(folder.path() / "old").whole());
        store.write_bundle(folder.path() / "all.zip", {});
        Store other{folder.path() / "new"};
        CHECK(other.take_bundle(folder.path() / "all.zip"));
        CHECK(other.history(1)->sessions.at(0).modes.size() == 2);
    }
}

TEST_CASE("a ledger brought up from schema 2 takes wood and targets") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-2", folder.path(),
                          std::filesystem::copy_options::recursive);
    Store store{folder.path()};
    REQUIRE_FALSE(store.read_only());
    CHECK(store.history(1)->targets.empty());
    CHECK(store.wood_stock().empty());
    const Id wood = store.add(WoodRecord{.label = "Maple 1"});
    store.set_carved(1, wood);
    store.set_target(1, 5, 350.0);
    CHECK(store.history(1)->wood->wood.id == wood);
    CHECK(store.history(1)->targets.at(0).frequency_hz == 350.0);
}

TEST_CASE(
    "a ledger written by schema 3 opens, with its shapes, and both halves of a plate are alike") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-3", folder.path(),
                          std::filesystem::copy_options::recursive);
    Store store{folder.path()};
    REQUIRE_FALSE(store.read_only());
    const auto history = store.history(1);
    REQUIRE(history);
    REQUIRE(history->form);
    CHECK(history->form->size.upper_mm == 168.25);
    CHECK(history->form->right_density == 1.0);
    CHECK(history->form->right_stiffness == 1.0);
    const SessionHistory& session = history->sessions.at(0);
    CHECK(session.thickness.readings.size() == 2);
    CHECK(session.pins.at(0).text == "stiff here");
    CHECK(session.flex.at(0).kind == FlexKind::crosswise);
    FormRecord form = *history->form;
    form.right_density = 0.9;
    store.set_form(1, form);
    CHECK(store.history(1)->form->right_density == 0.9);
}

TEST_CASE("a ledger written by schema 4 opens, is sealed, and its facts are written beside its "
          "recordings") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-4", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        const Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        CHECK(store.history(1)->form->right_density == 1.05);
        CHECK(store.history(1)->wood->wood.label == "Fichte 7");
    }
    CHECK(check(folder.path()).whole());
    CHECK(files_in(folder.path() / "recordings" / "facts").size() >=
          4); // two sessions, instrument, wood
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_only};
    CHECK(number(database, "SELECT count(*) FROM seal WHERE part = 'tap'") == 3);
    CHECK(number(database, "SELECT count(*) FROM seal WHERE part = 'session'") == 2);
}

TEST_CASE("a ledger written by schema 5 opens, sealed as it was, and takes the length of a body") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-5", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        InstrumentRecord instrument = store.overview().at(0).instrument;
        CHECK_FALSE(instrument.body_length_mm);
        instrument.kind = modes::InstrumentKind::double_bass;
        instrument.body_length_mm = 1093.5;
        store.update(instrument);
        CHECK(store.history(1)->instrument == instrument);
        const Id made = store.add(InstrumentRecord{.label = "Small", .body_length_mm = 335});
        for (const InstrumentSummary& one : store.overview())
            CHECK(one.instrument.body_length_mm == (one.instrument.id == made ? 335 : 1093.5));
    }
    CHECK(check(folder.path()).whole());
}

TEST_CASE("a ledger written by schema 6 opens and takes a weighing with its taps") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-6", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        const auto before = store.history(1)->sessions.at(0);
        CHECK(before.weighings.empty());
        CHECK(std::ranges::count(before.taps, 0, &TapRecord::weighing) == std::ssize(before.taps));
        WeighingRecord weighing = test::some_weighing(before.session.id);
        weighing.id = store.add(weighing);
        TapRecord tap = test::some_tap(before.session.id, 9);
        tap.verdict = taps::Verdict::weighed;
        tap.weighing = weighing.id;
        store.add(tap, test::some_sound(9, 1200));
        const auto after = store.history(1)->sessions.at(0);
        CHECK(after.weighings == std::vector{weighing});
        CHECK(after.taps.back().weighing == weighing.id);
        store.bin("weighing", weighing.id);
        CHECK(store.history(1)->sessions.at(0).weighings.empty());
        store.unbin("weighing", weighing.id);
    }
    CHECK(check(folder.path()).whole());
}

TEST_CASE("a ledger written by schema 7 opens and takes the lines of f-holes") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-7", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        FormRecord form = *store.history(1)->form;
        CHECK(form.f_hole_rims.empty());
        CHECK(form.f_holes);
        CHECK(store.history(1)->sessions.at(0).weighings.size() == 1);
        form.f_hole_rims = test::some_form().f_hole_rims;
        store.set_form(1, form);
        CHECK(store.history(1)->form == form);
    }
    CHECK(check(folder.path()).whole());
}

TEST_CASE("a ledger written by schema 8 opens and takes how the wood lies") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-8", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        FormRecord form = *store.history(1)->form;
        CHECK(form.f_hole_rims == test::some_form().f_hole_rims);
        CHECK_FALSE((form.rings_left_deg || form.rings_right_deg || form.run_out_deg));
        form = test::some_form();
        store.set_form(1, form);
        CHECK(store.history(1)->form == form);
    }
    CHECK(check(folder.path()).whole());
}

TEST_CASE("a ledger written by schema 9 opens, with rings and run-out, and takes a doubtful tap") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-9", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path()};
        REQUIRE_FALSE(store.read_only());
        CHECK(store.history(1)->form->run_out_deg == test::some_form().run_out_deg);
        TapRecord tap = test::some_tap(1, 9);
        tap.verdict = taps::Verdict::doubtful;
        const Id id = store.add(tap, test::some_sound(9, 1200));
        store.set_verdict(id, taps::Verdict::vouched);
        CHECK(store.history(1)->sessions.at(0).taps.back().verdict == taps::Verdict::vouched);
        CHECK(store.history(1)->sessions.at(0).taps.back().partials == tap.partials);
    }
    CHECK(check(folder.path()).whole());
}

TEST_CASE("a ledger of schema 1 that may only be read is read, and left as it is") {
    const TemporaryFolder folder;
    std::filesystem::copy(PLATEWRIGHT_SOURCE_DIR "/tests/data/ledger-schema-1", folder.path(),
                          std::filesystem::copy_options::recursive);
    {
        Store store{folder.path(), Access::read_only};
        REQUIRE(store.history(1));
        CHECK(store.history(1)->sessions[0].taps.size() == 2);
        CHECK(store.load(store.history(1)->sessions[0].taps[0]).samples.size() == 1200);
        CHECK_THROWS_AS(store.set_setting("a", "b"), base::Failure);
    }
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_only};
    CHECK(schema_version(database) == 1);
    CHECK(files_in(folder.path() / "backups").empty());
}

// Run by hand when a schema is released: PLATEWRIGHT_SAMPLE names the folder to be made. Then, to
// make it small: sqlite3 ledger.sqlite "PRAGMA journal_mode = DELETE; PRAGMA page_size = 512;
// VACUUM"
TEST_CASE("write the sample ledger of this schema", "[.][sample]") {
    const char* target = std::getenv("PLATEWRIGHT_SAMPLE");
    REQUIRE(target != nullptr);
    Workshop workshop{target};
    fill(workshop);
}

TEST_CASE("a backup that cannot be made keeps the migration from beginning") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    const auto newer = steps_and({"CREATE TABLE extra (x);"});
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_write};
    CHECK_THROWS_AS(migrate(database, folder.path() / "ledger.sqlite" / "backups", newer),
                    base::Failure);
    CHECK(schema_version(database) == std::ssize(schema_steps()));
}
