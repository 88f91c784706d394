#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/store.hpp"
#include "ledger/workshop.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <fstream>

using namespace platewright;
using namespace platewright::ledger;
using namespace platewright::test;

TEST_CASE("what is put into a ledger is there after it was closed and opened again") {
    const TemporaryFolder folder;
    Id plate = 0;
    {
        Workshop workshop{folder.path() / "deep" / "ledger"};
        plate = workshop.plate;
        workshop.add_tap(1);
        TapRecord refused = some_tap(workshop.session, 2);
        refused.verdict = taps::Verdict::struck_twice;
        refused.partials.clear();
        workshop.store.add(refused, some_sound(2));
        workshop.store.set_modes(workshop.session, {some_mode(311.0, 5), some_mode(151.0)});
    }
    const Store store{folder.path() / "deep" / "ledger"};
    CHECK_FALSE(store.read_only());
    const auto history = store.history(plate);
    REQUIRE(history);
    CHECK(history->instrument.label == "Test violin");
    CHECK(history->instrument.kind == modes::InstrumentKind::viola);
    CHECK(history->instrument.created.ms_since_epoch == 1'700'000'000'123);
    CHECK(history->plate.wood == "spruce, Fichte, épicéa");
    CHECK(history->plate.part == modes::Part::top);
    CHECK(history->plate.density_kg_m3 == 395.5);
    REQUIRE(history->sessions.size() == 1);
    const SessionHistory& session = history->sessions.front();
    CHECK(session.session.stage == modes::Stage::bar_fitted);
    CHECK(session.session.mass_g == 71.25);
    CHECK_FALSE(session.session.temperature_c);
    CHECK(session.session.humidity_pct == 47.0);
    CHECK(session.session.notes == "cold hands");

    REQUIRE(session.taps.size() == 2);
    const TapRecord& tap = session.taps[0];
    CHECK(tap.verdict == taps::Verdict::accepted);
    CHECK(tap.spot == taps::Spot::lower_bout_left);
    CHECK(tap.onset_frame == 1000);
    CHECK(tap.onset_index == 480);
    CHECK(tap.peak_dbfs == -7.5);
    CHECK(tap.analysis_version == "1");
    REQUIRE(tap.partials.size() == 2);
    CHECK(tap.partials[1].frequency_hz == 311.0);
    CHECK(tap.partials[1].phase_rad == 1.25);
    CHECK(session.taps[1].verdict == taps::Verdict::struck_twice);
    CHECK(session.taps[1].partials.empty());

    REQUIRE(session.modes.size() == 2);
    CHECK(session.modes[0].mode.frequency_hz == 151.0);
    CHECK_FALSE(session.modes[0].name);
    REQUIRE(session.modes[1].name);
    CHECK(session.modes[1].name->number == 5);
    CHECK_FALSE(session.modes[1].name->by_maker);
    REQUIRE(session.modes[1].mode.spots.size() == 2);
    CHECK(session.modes[1].mode.spots[0].spot == taps::Spot::centre);
}

TEST_CASE("a tap's recording comes back to the last of its 24 bits, its onset in place") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(7);
    const auto history = workshop.store.history(workshop.plate);
    const taps::Tap sound = some_sound(7);
    const taps::Tap kept = workshop.store.load(history->sessions[0].taps[0]);
    CHECK(kept.sample_rate_hz == 48000);
    CHECK(kept.onset_index == sound.onset_index);
    CHECK(kept.onset_frame == sound.onset_frame);
    CHECK(kept.spot == taps::Spot::lower_bout_left);
    REQUIRE(kept.samples.size() == sound.samples.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < kept.samples.size(); ++i)
        worst = std::max(worst, std::abs(static_cast<double>(kept.samples[i]) -
                                         static_cast<double>(sound.samples[i])));
    CHECK(worst <= 1.0 / (1 << 24));
}

TEST_CASE("a recording says of itself which tap it is") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(7);
    const TapRecord tap = workshop.store.history(workshop.plate)->sessions[0].taps[0];
    const auto file =
        folder.path() / "recordings" / tap.recording.substr(0, 2) / (tap.recording + ".flac");
    const std::string text = decode_recording(read_whole(file)).description;
    CHECK(text.starts_with("platewright tap; session "));
    CHECK_THAT(text,
               ContainsSubstring("; at 2023-11-14T22:16:40.007Z; onset frame 7000; onset index "
                                 "480; spot lower_bout_left; verdict accepted"));
}

TEST_CASE("a damaged recording is never passed off as whole") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    workshop.add_tap(7);
    const auto history = workshop.store.history(workshop.plate);
    const TapRecord& tap = history->sessions[0].taps[0];
    const auto file =
        folder.path() / "recordings" / tap.recording.substr(0, 2) / (tap.recording + ".flac");
    REQUIRE(std::filesystem::exists(file));
    {
        std::fstream damage{file, std::ios::in | std::ios::out | std::ios::binary};
        damage.seekp(200);
        damage.put('!');
    }
    CHECK_THROWS_AS(workshop.store.load(tap), base::Failure);
    std::filesystem::remove(file);
    CHECK_THROWS_AS(workshop.store.load(tap), base::Failure);
}

TEST_CASE("a correction changes what it names and nothing else") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    SessionRecord session = some_session(workshop.plate);
    session.id = workshop.session;
    session.mass_g.reset();
    session.temperature_c = -3.5;
    workshop.store.update(session);
    PlateRecord plate = some_plate(workshop.instrument);
    plate.id = workshop.plate;
    plate.label = "Top II";
    workshop.store.update(plate);
    InstrumentRecord instrument = some_instrument();
    instrument.id = workshop.instrument;
    instrument.kind = modes::InstrumentKind::cello;
    workshop.store.update(instrument);

    const auto history = workshop.store.history(workshop.plate);
    CHECK_FALSE(history->sessions[0].session.mass_g);
    CHECK(history->sessions[0].session.temperature_c == -3.5);
    CHECK(history->plate.label == "Top II");
    CHECK(history->instrument.kind == modes::InstrumentKind::cello);

    session.id = 4711;
    CHECK_THROWS_AS(workshop.store.update(session), std::invalid_argument);
    session.id = workshop.session;
    session.humidity_pct = 101.0;
    CHECK_THROWS_AS(workshop.store.update(session), std::invalid_argument);
    CHECK(workshop.store.history(workshop.plate)->sessions[0].session.humidity_pct == 47.0);
}

TEST_CASE("what belongs to nothing is refused as a wrong call, and leaves no trace") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    CHECK_THROWS_AS(workshop.store.add(some_plate(99)), std::invalid_argument);
    CHECK_THROWS_AS(workshop.store.add(some_session(99)), std::invalid_argument);
    CHECK_THROWS_AS(workshop.store.add(some_tap(99, 1), some_sound(1)), std::invalid_argument);
    CHECK_THROWS_AS(workshop.store.add_reference(99, "none"), std::invalid_argument);
    CHECK_THROWS_AS(workshop.store.bin("ledger", 1), std::invalid_argument);
    CHECK_THROWS_AS(workshop.store.bin("tap", 1), std::invalid_argument);
    CHECK(workshop.store.history(workshop.plate)->sessions[0].taps.empty());
    CHECK_FALSE(workshop.store.history(99));
}

TEST_CASE("the bin hides a thing with all that belongs to it, and gives it back whole") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store& store = workshop.store;
    const Id tap = workshop.add_tap(1);
    workshop.add_tap(2);
    const Id reference = store.add_reference(workshop.session, "the good one");

    store.bin("tap", tap);
    CHECK(store.history(workshop.plate)->sessions[0].taps.size() == 1);
    store.unbin("tap", tap);
    CHECK(store.history(workshop.plate)->sessions[0].taps.size() == 2);

    store.bin("session", workshop.session);
    CHECK(store.history(workshop.plate)->sessions.empty());
    CHECK(store.references().empty());
    CHECK(store.overview()[0].plates[0].sessions == 0);
    CHECK_FALSE(store.overview()[0].plates[0].newest);
    store.unbin("session", workshop.session);
    CHECK(store.references().size() == 1);

    store.bin("instrument", workshop.instrument);
    CHECK(store.overview().empty());
    CHECK_FALSE(store.history(workshop.plate));
    CHECK(store.find_plates("Top I").empty());
    store.unbin("instrument", workshop.instrument);
    CHECK(store.history(workshop.plate)->sessions[0].taps.size() == 2);

    store.remove_reference(reference);
    CHECK(store.references().empty());
    store.unbin("reference", reference);
    CHECK(store.references()[0].label == "the good one");
}

TEST_CASE("a newer analysis stands beside the older, and the newest is what is shown") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    const Id tap = workshop.add_tap(1);
    workshop.store.set_modes(workshop.session, {some_mode(311.0, 5)});
    workshop.store.add_reading(tap, "2", {some_partial(999.0)});
    auto newer = some_mode(311.5, 5);
    newer.analysis_version = "2";
    workshop.store.set_modes(workshop.session, {newer});

    const auto session = workshop.store.history(workshop.plate)->sessions[0];
    CHECK(session.taps[0].analysis_version == "2");
    CHECK(session.taps[0].partials.front().frequency_hz == 999.0);
    CHECK(session.modes.size() == 1);
    CHECK(session.modes[0].mode.frequency_hz == 311.5);
    CHECK_THROWS_AS(workshop.store.add_reading(tap, "2", {}), std::invalid_argument);

    newer.mode.frequency_hz = 311.7;
    workshop.store.set_modes(workshop.session, {newer});
    CHECK(workshop.store.history(workshop.plate)->sessions[0].modes[0].mode.frequency_hz == 311.7);
    CHECK_THROWS_AS(workshop.store.set_modes(workshop.session, {some_mode(1.0), newer}),
                    std::invalid_argument);
    workshop.store.set_modes(workshop.session, {});
    CHECK(workshop.store.history(workshop.plate)->sessions[0].modes.empty());
}

TEST_CASE(
    "the maker's word on a mode holds through re-analysis, and only one mode bears a number") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store& store = workshop.store;
    const auto modes_now = [&] { return store.history(workshop.plate)->sessions[0].modes; };
    store.set_modes(workshop.session, {some_mode(150.0, 2), some_mode(311.0, 5), some_mode(340.0)});
    store.name_mode(workshop.session, 340.0, 5);
    CHECK_FALSE(modes_now()[1].name);
    REQUIRE(modes_now()[2].name);
    CHECK(modes_now()[2].name->number == 5);
    CHECK(modes_now()[2].name->by_maker);
    CHECK(modes_now()[2].name->confidence == 1.0);
    CHECK(modes_now()[0].name->number == 2);

    store.set_modes(workshop.session, {some_mode(150.2, 2), some_mode(311.1, 5), some_mode(340.9)});
    CHECK_FALSE(modes_now()[1].name);
    CHECK(modes_now()[2].name->by_maker);

    store.name_mode(workshop.session, 340.9, std::nullopt);
    CHECK_FALSE(modes_now()[2].name);
    store.name_mode(workshop.session, 700.0, 6); // no such mode any more
    CHECK(modes_now()[0].name->number == 2);
}

TEST_CASE("lists: plates by label or id, instruments in order, references and settings") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store& store = workshop.store;
    const Id later = store.add(some_session(workshop.plate, 3));
    const auto overview = store.overview();
    REQUIRE(overview.size() == 1);
    REQUIRE(overview[0].plates.size() == 1);
    CHECK(overview[0].plates[0].sessions == 2);
    CHECK(overview[0].plates[0].newest->id == later);
    CHECK(store.find_plates("top i").size() == 1);
    CHECK(store.find_plates("TEST violin").size() == 1);
    CHECK(store.find_plates(std::to_string(workshop.plate)).size() == 1);
    CHECK(store.find_plates("1 or 1=1").empty());
    CHECK(store.plate_of_session(later) == workshop.plate);
    CHECK_FALSE(store.plate_of_session(99));

    CHECK_FALSE(store.setting("input"));
    store.set_setting("input", "hw:1");
    store.set_setting("input", "");
    CHECK(store.setting("input") == "");
}

TEST_CASE(
    "the overview has the notes of a plate's sessions, a line each, without empty or binned ones") {
    const TemporaryFolder folder;
    Workshop workshop{folder.path()};
    Store& store = workshop.store;
    const auto notes = [&] { return store.overview().at(0).plates.at(0).session_notes; };
    CHECK(notes() == "cold hands");
    SessionRecord silent = some_session(workshop.plate, 1);
    silent.notes.clear();
    store.add(silent);
    CHECK(notes() == "cold hands");
    SessionRecord later = some_session(workshop.plate, 2);
    later.notes = "Ähnlich; rang like a bell\n%_";
    const Id id = store.add(later);
    CHECK(notes() == "cold hands\nÄhnlich; rang like a bell\n%_");
    store.bin("session", id);
    CHECK(notes() == "cold hands");
    store.add(PlateRecord{
        .instrument = workshop.instrument, .label = "Back", .created = {1'800'000'000'000}});
    CHECK(store.overview().at(0).plates.at(1).session_notes.empty());
}

TEST_CASE("the bin tells what lies in it, the latest first, and what it belonged to") {
    const TemporaryFolder folder;
    Workshop w{folder.path()};
    const Id tap = w.add_tap(1);
    CHECK(w.store.in_the_bin().empty());
    w.store.bin("tap", tap);
    const Id reference = w.store.add_reference(w.session, "the good one");
    w.store.bin("reference", reference);
    const auto things = w.store.in_the_bin();
    REQUIRE(things.size() == 2);
    for (const BinnedThing& thing : things)
        CHECK(thing.what.find("plate “Top I”, instrument “Test violin”") != std::string::npos);
    CHECK(std::ranges::any_of(things, [](const auto& thing) {
        return thing.what.starts_with("reference “the good one”, session 2023-11-1");
    }));
    w.store.unbin("tap", tap);
    CHECK(w.store.in_the_bin().size() == 1);
    w.store.bin("flex",
                w.store.add(FlexRecord{0, w.session, FlexKind::crosswise, 150.0, 500.0, 1.75}));
    CHECK(std::ranges::any_of(w.store.in_the_bin(), [](const auto& thing) {
        return thing.what.starts_with("flex reading, session"); // in words, not by its table
    }));
}
