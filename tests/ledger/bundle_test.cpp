// A bundle carries all of a ledger to another one, which knows again what it has.
#include "base/failure.hpp"
#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/mend/check.hpp"
#include "ledger/tables/database.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

/// All rows of all bundled tables of a ledger, as one text.
std::string content(const fs::path& folder) {
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    TreeReader reader{database};
    Statement rows{database, "SELECT id FROM instrument ORDER BY uid"};
    std::string text;
    while (rows.step())
        text += reader.row("instrument", rows.integer()).dump(1) + "\n";
    return text;
}

TakeReport taken(Store& store, const fs::path& bundle, const TakeOptions& options = {}) {
    const auto report = store.take_bundle(bundle, options);
    if (!report)
        FAIL(report.fault().what << " (" << report.fault().detail << ")");
    return *report;
}

int total(const TakeReport& report, int TakeReport::Kind::*which) {
    int sum = 0;
    for (const TakeReport::Kind& kind : report.kinds)
        sum += kind.*which;
    return sum;
}

/// A bundle of the full workshop in `folder`/bundle.zip.
fs::path bundle_of_full_workshop(const fs::path& folder) {
    Workshop workshop{folder / "one"};
    fill(workshop);
    const fs::path bundle = folder / "bundle.zip";
    const BundleReport report = workshop.store.write_bundle(bundle, {});
    CHECK(report.taps == 2); // the third lies in the bin
    CHECK(report.recordings == 2);
    CHECK(report.left_out.empty());
    return bundle;
}

} // namespace

TEST_CASE("every table of the ledger goes into a bundle, but settings, and recordings as files") {
    const TemporaryFolder folder;
    { const Workshop workshop{folder.path()}; }
    Database database{folder.path() / "ledger.sqlite", Database::Access::read_only};
    Statement rows{database, "SELECT name FROM sqlite_schema WHERE type = 'table'"};
    std::set<std::string> tables, bundled;
    while (rows.step())
        tables.insert(rows.text());
    for (const BundledTable& table : bundled_tables())
        bundled.emplace(table.name);
    for (const std::string_view table : k_unbundled_tables)
        bundled.emplace(table);
    CHECK(tables == bundled);
    for (const TableShape& shape : table_shapes(database)) {
        CAPTURE(shape.table.name);
        CHECK((shape.parent_column.empty() == shape.table.parent.empty()));
        if (shape.table.identity == "uid")
            CHECK(shape.column("uid") != nullptr);
    }
}

TEST_CASE(
    "how far a bundle is written grows from nothing to all, and at any step it can be stopped") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    fill(workshop);
    const fs::path bundle = folder.path() / "bundle.zip";
    std::vector<double> shares;
    const BundleReport report = workshop.store.write_bundle(bundle, {}, [&](double share) {
        shares.push_back(share);
        return true;
    });
    CHECK_FALSE(report.stopped);
    REQUIRE(shares.size() > 3);
    CHECK(shares[0] == Approx(0.25)); // one of two recordings found whole: half of the half
    CHECK(std::ranges::is_sorted(shares));
    CHECK(shares.front() > 0);
    CHECK(shares.back() == Approx(1));
    for (const std::size_t last : {std::size_t{1}, shares.size() - 1}) {
        const fs::path half = folder.path() / ("half" + std::to_string(last) + ".zip");
        std::size_t steps = 0;
        CHECK(
            workshop.store.write_bundle(half, {}, [&](double) { return ++steps < last; }).stopped);
        CHECK_FALSE(fs::exists(half));
    }
}

TEST_CASE("a bundle taken into an empty ledger makes it the same, sound for sound") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store two{folder.path() / "two"};
    const TakeReport report = taken(two, bundle);
    CHECK(report.recordings_added == 2);
    CHECK(total(report, &TakeReport::Kind::same) == 0);
    CHECK(report.differences.empty());
    CHECK(content(folder.path() / "two") == content(folder.path() / "one"));
    const auto history = two.history(two.find_plates("Top I").at(0).id);
    REQUIRE(history);
    for (const TapRecord& tap : history->sessions.at(0).taps)
        CHECK(two.load(tap).samples.size() == 1200);
    CHECK(history->sessions[0].modes.at(1).name->by_maker);
    CHECK(history->form->bar->density_kg_m3 == 401.0);
}

TEST_CASE("a bundle taken in twice, or where it came from, adds nothing") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store two{folder.path() / "two"};
    taken(two, bundle);
    const std::string before = content(folder.path() / "two");
    Store one{folder.path() / "one"};
    for (Store* store : {&two, &one}) {
        const TakeReport again = taken(*store, bundle);
        CHECK(total(again, &TakeReport::Kind::added) == 0);
        CHECK(total(again, &TakeReport::Kind::different) == 0);
        CHECK(again.recordings_added == 0);
        CHECK(again.recordings_there == 2);
    }
    CHECK(content(folder.path() / "two") == before);
}

TEST_CASE("two ledgers that went on from one grow together, and what differs is said and left") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store one{folder.path() / "one"}, two{folder.path() / "two"};
    taken(two, bundle);
    const Id plate_two = two.find_plates("Top I").at(0).id;
    SessionRecord session = two.history(plate_two)->sessions.at(0).session;
    session.mass_g = 70.5;
    session.notes = "weighed again";
    two.update(session);
    two.add(some_tap(session.id, 40), some_sound(40, 1200));
    one.add(some_tap(1, 50), some_sound(50, 1200));
    one.add(some_session(1, 9));
    two.write_bundle(folder.path() / "back.zip", {});

    const TakeReport look = taken(one, folder.path() / "back.zip", {.only_look = true});
    CHECK(one.history(1)->sessions.at(0).taps.size() == 3);
    const TakeReport report = taken(one, folder.path() / "back.zip");
    CHECK(total(look, &TakeReport::Kind::added) == total(report, &TakeReport::Kind::added));
    CHECK(report.recordings_added == 1);
    CHECK(report.sessions_with_more_taps == 1);
    REQUIRE(report.differences.size() == 2);
    CHECK(report.differences[0].what == "mass_g");
    CHECK(report.differences[0].here == "71.25");
    CHECK(report.differences[0].there == "70.5");
    CHECK(report.differences[0].where.find("plate “Top I”") != std::string::npos);
    const auto history = one.history(1);
    CHECK(history->sessions.size() == 3);
    CHECK(history->sessions[0].taps.size() == 4);
    CHECK(history->sessions[0].session.mass_g == 71.25);

    taken(one, folder.path() / "back.zip", {.prefer_bundle = true});
    CHECK(one.history(1)->sessions[0].session.mass_g == 70.5);
    CHECK(one.history(1)->sessions[0].session.notes == "weighed again");
    bool laid_aside = false;
    for (const auto& entry : fs::directory_iterator{folder.path() / "one" / "backups"})
        laid_aside =
            laid_aside || entry.path().filename().string().starts_with("before-bundle-at-");
    CHECK(laid_aside);
}

TEST_CASE("what lies in the bin stays there when a bundle brings it again") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store one{folder.path() / "one"};
    one.bin("session", 1);
    const TakeReport report = taken(one, bundle);
    CHECK(total(report, &TakeReport::Kind::in_the_bin) == 1);
    CHECK(one.history(1)->sessions.size() == 1);
}

TEST_CASE("a tap that was put back from its recording is known again") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store one{folder.path() / "one"};
    {
        Database database{folder.path() / "one" / "ledger.sqlite", Database::Access::read_write};
        database.run("DELETE FROM partial; DELETE FROM reading; DELETE FROM tap; "
                     "DELETE FROM recording");
    }
    CHECK(one.rescue().taps == 3);
    const TakeReport report = taken(one, bundle);
    CHECK(one.history(1)->sessions.at(0).taps.size() == 2); // the binned one lies in the bin again
    CHECK(report.recordings_there == 2);
    CHECK(one.history(1)->sessions[0].taps.at(0).partials.size() == 2);
}

TEST_CASE("a recording that was lost or damaged is put right by a bundle that has it") {
    const TemporaryFolder folder;
    const fs::path bundle = bundle_of_full_workshop(folder.path());
    Store one{folder.path() / "one"};
    const auto taps = one.history(1)->sessions.at(0).taps;
    const auto file = [&](std::size_t tap) {
        const std::string& hash = taps.at(tap).recording;
        return folder.path() / "one" / "recordings" / hash.substr(0, 2) / (hash + ".flac");
    };
    fs::remove(file(0));
    fs::resize_file(file(1), 200);
    CHECK(taken(one, bundle).recordings_mended == 2);
    CHECK(check(folder.path() / "one").whole());
}

TEST_CASE("one plate, or one instrument, can be sent alone") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path() / "one"};
    fill(workshop);
    PlateRecord back = some_plate(workshop.instrument);
    back.label = "Back I";
    const Id second = workshop.store.add(back);
    workshop.store.add(some_instrument());
    const BundleReport all = workshop.store.write_bundle(folder.path() / "all.zip", {});
    CHECK(all.instruments == 2);
    CHECK(all.plates == 2);
    const BundleReport one =
        workshop.store.write_bundle(folder.path() / "back.zip", {.plate = second});
    CHECK(one.instruments == 1);
    CHECK(one.plates == 1);
    CHECK(one.taps == 0);
    Store two{folder.path() / "two"};
    taken(two, folder.path() / "back.zip");
    CHECK(two.overview().at(0).plates.at(0).plate.label == "Back I");
}

TEST_CASE("a recording that is damaged here is left out and said, and the rest goes") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path() / "one"};
    fill(workshop);
    const std::string hash = workshop.store.history(1)->sessions.at(0).taps.at(0).recording;
    const fs::path file =
        folder.path() / "one" / "recordings" / hash.substr(0, 2) / (hash + ".flac");
    fs::resize_file(file, 100);
    const BundleReport report = workshop.store.write_bundle(folder.path() / "b.zip", {});
    CHECK(report.left_out == std::vector{hash});
    Store two{folder.path() / "two"};
    CHECK(taken(two, folder.path() / "b.zip").recordings_lacking == 1);
    CHECK(two.history(1)->sessions.at(0).taps.size() == 2);
}
