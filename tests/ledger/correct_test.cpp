// What is put right reads as if it had been entered so from the start.
#include "ledger/bundle/bundle_tables.hpp"
#include "ledger/full_workshop.hpp"
#include "ledger/tables/database.hpp"
#include "support/catch.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

namespace {

namespace fs = std::filesystem;

/// What a plate's history says, without the ids that a ledger gives.
std::string told(const Store& store, Id plate) {
    const auto history = store.history(plate);
    REQUIRE(history);
    std::string text = history->instrument.label + "/" + history->plate.label;
    for (const SessionHistory& one : history->sessions) {
        text += fmt::format("\n{} {} {}", one.session.begun.ms_since_epoch,
                            modes::to_word(one.session.stage), one.session.mass_g.value_or(0));
        for (const TapRecord& tap : one.taps)
            text += fmt::format("\n  {} {} {} {}", tap.at.ms_since_epoch, taps::to_word(tap.spot),
                                tap.recording.size(), tap.partials.size()); // its name is its own
        for (const plate::ThicknessReading& r : one.thickness.readings)
            text += fmt::format("\n  {} {} {} {}", r.at.x_mm, r.at.y_mm, r.thickness_mm, r.name);
    }
    return text;
}

std::string content_of(const fs::path& folder) {
    Database database{folder / "ledger.sqlite", Database::Access::read_only};
    TreeReader reader{database};
    std::string text = reader.all_rows("wood").dump(1);
    Statement rows{database, "SELECT id FROM instrument WHERE binned_ms IS NULL ORDER BY uid"};
    while (rows.step())
        text += reader.row("instrument", rows.integer()).dump(1) + "\n";
    return text;
}

const std::vector<plate::ThicknessReading> k_readings{
    {{0, 100}, 2.9, ""}, {{20, 150}, 3.1, "centre"}, {{-30, 200}, 3.4, ""}, {{10, 250}, 2.7, ""}};

} // namespace

TEST_CASE("a session moved to another plate reads as if it had been entered there") {
    const TemporaryFolder folder;
    Workshop wrong{folder.path() / "wrong"}, right{folder.path() / "right"};
    const Id other_wrong = wrong.store.add(
        PlateRecord{.instrument = wrong.instrument, .part = modes::Part::back, .label = "Back I"});
    const Id other_right = right.store.add(
        PlateRecord{.instrument = right.instrument, .part = modes::Part::back, .label = "Back I"});
    const SessionRecord on_wrong = some_session(wrong.plate, 1),
                        on_right = some_session(other_right, 1);
    const Id strayed = wrong.store.add(on_wrong), meant = right.store.add(on_right);
    const auto fill_session = [](Store& store, Id session) {
        store.add(some_tap(session, 1), some_sound(1));
        store.set_thickness(session, k_readings);
    };
    fill_session(wrong.store, strayed);
    fill_session(right.store, meant);
    CHECK_FALSE(wrong.store.move_session(strayed, other_wrong));
    CHECK(told(wrong.store, other_wrong) == told(right.store, other_right));
    CHECK(told(wrong.store, wrong.plate) == told(right.store, right.plate));
}

TEST_CASE(
    "a plate given to another instrument, and a session to another day, read as if entered so") {
    const TemporaryFolder folder;
    Workshop wrong{folder.path() / "wrong"}, right{folder.path() / "right"};
    InstrumentRecord second = some_instrument();
    second.label = "Second";
    const Id wrong_second = wrong.store.add(second), right_second = right.store.add(second);
    const Id plate = wrong.store.add(
        PlateRecord{.instrument = wrong.instrument, .part = modes::Part::back, .label = "Back"});
    const Id meant = right.store.add(
        PlateRecord{.instrument = right_second, .part = modes::Part::back, .label = "Back"});
    const Id later = wrong.store.add(some_session(plate, 5));
    wrong.store.add(some_session(plate, 3));
    right.store.add(some_session(meant, 1));
    right.store.add(some_session(meant, 3));
    CHECK_FALSE(wrong.store.move_plate(plate, wrong_second));
    CHECK_FALSE(wrong.store.set_begun(later, some_session(plate, 1).begun));
    SessionRecord record = wrong.store.history(plate)->sessions.front().session;
    record.mass_g = some_session(plate, 1).mass_g; // the weight of that day
    wrong.store.update(record);
    CHECK(told(wrong.store, plate) == told(right.store, meant));
}

TEST_CASE("any tap is withdrawn, its spot is put right, and readings come out") {
    const TemporaryFolder folder;
    Workshop wrong{folder.path() / "wrong"}, right{folder.path() / "right"};
    const Id first = wrong.add_tap(1), second = wrong.add_tap(2);
    wrong.add_tap(3);
    TapRecord tap = some_tap(right.session, 1);
    tap.spot = taps::Spot::centre;
    right.store.add(tap, some_sound(1));
    right.add_tap(3);
    wrong.store.set_thickness(wrong.session, k_readings);
    right.store.set_thickness(right.session, {k_readings[0], k_readings[1], k_readings[3]});
    wrong.store.bin("tap", second);
    CHECK_FALSE(wrong.store.set_spot(first, taps::Spot::centre));
    const std::size_t out[]{2};
    CHECK_FALSE(wrong.store.take_out_readings(wrong.session, out));
    // The sound itself bears where it was said to be struck, so its hash is another one.
    const auto without_hash = [](std::string text) {
        for (std::size_t i = 0; i + 64 <= text.size(); ++i)
            if (text.find_first_not_of("0123456789abcdef", i) >= i + 64)
                text.erase(i, 64);
        return text;
    };
    CHECK(without_hash(told(wrong.store, wrong.plate)) ==
          without_hash(told(right.store, right.plate)));
    const std::size_t all[]{0, 1, 2};
    CHECK_FALSE(wrong.store.take_out_readings(wrong.session, all));
    CHECK(wrong.store.history(wrong.plate)->sessions.front().thickness.readings.empty());
}

TEST_CASE("what can't be put so is refused in a sentence, and nothing is changed") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path() / "ledger"};
    const Id body = workshop.store.add(
        PlateRecord{.instrument = workshop.instrument, .part = modes::Part::body, .label = "Body"});
    const Id tap = workshop.add_tap(1);
    const std::string before = content_of(folder.path() / "ledger");
    const auto refused = [](const std::optional<base::Fault>& fault) {
        REQUIRE(fault);
        CHECK(fault->what.ends_with("Nothing was changed."));
    };
    refused(workshop.store.move_session(workshop.session, body));
    refused(workshop.store.move_session(workshop.session, 999));
    refused(workshop.store.move_session(999, workshop.plate));
    refused(workshop.store.move_plate(workshop.plate, 999));
    refused(workshop.store.set_begun(workshop.session, {base::now().ms_since_epoch + 86'400'000}));
    refused(workshop.store.set_begun(999, {0}));
    refused(workshop.store.set_spot(tap, taps::Spot::bridge_bass));
    refused(workshop.store.set_spot(999, taps::Spot::centre));
    const std::size_t none[]{7};
    refused(workshop.store.take_out_readings(workshop.session, none));
    CHECK(content_of(folder.path() / "ledger") == before);
}

TEST_CASE("a bundle that was taken in is taken out again, what it replaced stands as it stood") {
    const TemporaryFolder folder;
    const fs::path bundle = folder.path() / "bundle.zip";
    const bool prefers = GENERATE(false, true);
    {
        Workshop from{folder.path() / "from"};
        fill(from);
        REQUIRE(from.store.write_bundle(bundle, {}).taps == 2);
    }
    Store store{folder.path() / "to"};
    REQUIRE(store.take_bundle(bundle));
    const std::string first = content_of(folder.path() / "to");
    // The same things go on in both ledgers.
    PlateRecord plate = store.overview().front().plates.front().plate;
    plate.label = "Top I, mine";
    store.update(plate);
    const Id session = store.history(plate.id)->sessions.front().session.id;
    store.add(some_tap(session, 77), some_sound(77));
    const std::string before = content_of(folder.path() / "to");
    {
        Store from{folder.path() / "from"};
        const PlateHistory history = *from.history(from.overview().front().plates.front().plate.id);
        from.add(some_tap(history.sessions.front().session.id, 78), some_sound(78));
        from.set_thickness(history.sessions.front().session.id, k_readings);
        from.set_target(history.plate.id, 5, 351.0);
        from.write_bundle(folder.path() / "again.zip", {});
    }
    REQUIRE(store.take_bundle(folder.path() / "again.zip", {.prefer_bundle = prefers}));
    REQUIRE(content_of(folder.path() / "to") != before);
    const auto undone = store.undo_import();
    REQUIRE(undone);
    CHECK(undone->file == "again.zip");
    CHECK(undone->changed_since == 0);
    CHECK(content_of(folder.path() / "to") == before);
    // The one before it is the last now.
    REQUIRE(store.undo_import());
    CHECK(store.overview().empty());
    CHECK_FALSE(store.undo_import());
}
