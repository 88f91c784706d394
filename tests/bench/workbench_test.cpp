#include "bench/model/plate_work.hpp"
#include "bench/session/session_names.hpp"
#include "bench/workbench.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using bench::HeardTap;
using bench::Workbench;
using test::TemporaryFolder;

namespace {

/// A violin back under way: mode 1, 2 and 5 of an ordinary free plate, and neighbours.
const std::vector<synth::Ring> k_back{{115, 50, 0.05, 0.3}, {170, 58, 0.10, 1.0},
                                      {222, 60, 0.03, 0.2}, {234, 62, 0.03, 2.0},
                                      {355, 62, 0.20, 0.7}, {410, 64, 0.05, 0.1}};

HeardTap heard(std::uint32_t seed, double scale = 1.0,
               const std::vector<synth::Ring>& plate = k_back) {
    synth::Normal normal(seed);
    auto rings = plate;
    for (auto& ring : rings)
        ring.hz *= scale * (1 + 0.001 * normal());
    HeardTap tap{.tap = synth::tap(rings, normal), .partials = {}, .picture = {}};
    tap.tap.spot = taps::Spot::centre;
    tap.partials = modes::fit_tap(tap.tap).partials;
    return tap;
}

struct Bench {
    TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    ledger::Id instrument = store.add(ledger::InstrumentRecord{.label = "Wren"});
    ledger::Id plate =
        store.add(ledger::PlateRecord{.instrument = instrument, .label = "Wren back"});
    Workbench bench{store, {}};

    void session(double mass_g, std::int64_t day, double scale = 1.0, int taps = 4) {
        bench.begin_session({.plate = plate, .begun = {day * 86'400'000}, .mass_g = mass_g});
        for (int i = 0; i < taps; ++i)
            bench.keep(heard(static_cast<std::uint32_t>(100 * day + i), scale));
        bench.settle();
    }
};

const bench::ModeView& figure(const bench::PlateView& view, int number) {
    for (const bench::ModeView& one : view.figures)
        if (one.number == number)
            return one;
    FAIL("no figure for mode " << number);
    return view.figures.front();
}

const trends::TrackDrift& track(const bench::PlateView& view, int number) {
    const trends::TrackDrift* found = trends::find_track(view.drift, number);
    REQUIRE(found != nullptr);
    return *found;
}

} // namespace

TEST_CASE("taps of a session become named modes that the ledger holds") {
    Bench b;
    b.session(110, 1);
    const auto view = b.bench.view();
    REQUIRE(view);
    REQUIRE(figure(*view, 5).now);
    CHECK(figure(*view, 5).now->mode.frequency_hz == Approx(355).margin(1.0));
    CHECK(view->session_mean);
    const auto history = b.store.history(b.plate);
    REQUIRE(history->sessions.size() == 1);
    CHECK(history->sessions[0].taps.size() == 4);
    CHECK(history->sessions[0].modes.size() == view->naming.modes.size());
}

TEST_CASE("the next session shows what moved, the last session's spectrum as a ghost") {
    Bench b;
    b.session(110, 1);
    b.session(108, 4, 0.985);
    const auto view = b.bench.view();
    REQUIRE(track(*view, 2).since_last);
    CHECK(track(*view, 2).since_last->hz == Approx(-0.015 * 170).margin(0.6));
    REQUIRE(track(*view, 2).since_last->mass_g);
    CHECK(*track(*view, 2).since_last->mass_g == Approx(-2));
    REQUIRE(view->ghosts.size() == 1);
    CHECK_FALSE(view->ghosts[0].spectrum.level_dbfs.empty());
}

TEST_CASE("a plate read again after its taps is what its model was made of") {
    // Else a plan that is kept has the model fitted anew, and is gone from the sheet.
    Bench b;
    b.session(110, 1);
    b.session(108, 4, 0.985);
    const bench::StudyInputs tapped = bench::inputs_of(*b.bench.history(), 1);
    REQUIRE_FALSE(tapped.history.sessions[1].modes.empty());
    b.bench.reload();
    CHECK(bench::inputs_of(*b.bench.history(), 1) == tapped);
}

TEST_CASE("a reopened plate shows the same as before it was closed") {
    Bench b;
    b.session(110, 1);
    b.session(108, 4, 0.985);
    const auto before = b.bench.view();
    Workbench again(b.store, {});
    again.open_plate(b.plate);
    const auto after = again.view();
    REQUIRE(after->naming.modes.size() == before->naming.modes.size());
    for (std::size_t i = 0; i < before->naming.modes.size(); ++i) {
        CHECK(after->naming.modes[i].mode.frequency_hz ==
              before->naming.modes[i].mode.frequency_hz);
        CHECK(after->naming.modes[i].name.has_value() == before->naming.modes[i].name.has_value());
    }
    CHECK(after->drift.tracks.size() == before->drift.tracks.size());
    CHECK(after->last_tap);
}

TEST_CASE("taking a tap back leaves the session as if it had not been") {
    Bench b;
    b.session(110, 1, 1.0, 3);
    const double hz = figure(*b.bench.view(), 5).now->mode.frequency_hz;
    b.bench.keep(heard(999, 1.002));
    b.bench.settle();
    CHECK(figure(*b.bench.view(), 5).now->mode.frequency_hz != hz);
    CHECK(b.bench.undo_tap());
    CHECK(figure(*b.bench.view(), 5).now->mode.frequency_hz == hz);
    CHECK(b.store.history(b.plate)->sessions[0].taps.size() == 3);
    while (b.bench.undo_tap()) {
    }
    CHECK(b.bench.view()->naming.modes.empty());
}

TEST_CASE("the maker's name for a mode stands, here and in the next session") {
    Bench b;
    b.session(110, 1);
    b.bench.name_mode(222, 3);
    const auto named = [](const bench::PlateView& view, double hz) -> std::optional<int> {
        for (const auto& mode : view.naming.modes)
            if (std::abs(mode.mode.frequency_hz / hz - 1) < 0.01 && mode.name)
                return mode.name->number;
        return std::nullopt;
    };
    CHECK(named(*b.bench.view(), 222) == 3);
    b.bench.keep(heard(50));
    b.bench.settle();
    CHECK(named(*b.bench.view(), 222) == 3);
    b.session(108, 4, 0.985);
    CHECK(named(*b.bench.view(), 222 * 0.985) == 3);
}

TEST_CASE("set against a reference, each mode says whether it differs") {
    Bench b;
    b.session(110, 1);
    const ledger::Id liked = b.bench.session();
    b.store.add_reference(liked, "the one we liked");
    b.session(104, 9, 0.96);
    b.bench.compare_with(liked);
    const auto view = b.bench.view();
    REQUIRE(view->comparison);
    CHECK(view->reference_label == "the one we liked");
    REQUIRE(view->comparison);
    const trends::ComparedMode* beside = trends::find_mode(*view->comparison, 5);
    REQUIRE(beside != nullptr);
    CHECK(*beside->hz == Approx(-0.04 * 355).margin(2));
    CHECK(beside->beyond_spread);
    CHECK(view->reference_mean);
}

TEST_CASE("a tap without a session is shown and not kept") {
    TemporaryFolder folder;
    ledger::Store store(folder.path());
    Workbench bench(store, {});
    CHECK(bench.keep(heard(1)).id == 0);
    CHECK_FALSE(bench.view());
    CHECK_FALSE(bench.undo_tap());
}

TEST_CASE("a session from another day takes no taps until the maker takes it up again") {
    Bench b;
    b.session(110, 1);
    Workbench again(b.store, {});
    again.open_plate(b.plate);
    CHECK_FALSE(again.takes_taps());
    CHECK(again.keep(heard(70)).id == 0);
    CHECK_FALSE(again.undo_tap());
    CHECK(b.store.history(b.plate)->sessions[0].taps.size() == 4);
    again.open_session(again.session());
    CHECK(again.takes_taps());
    CHECK(again.keep(heard(71)).id != 0);
    CHECK(b.store.history(b.plate)->sessions[0].taps.size() == 5);
}

TEST_CASE("the figures makers steer by come first, whatever else bears a name") {
    Bench b;
    b.session(110, 1);
    b.bench.name_mode(222, 3);
    const auto& figures = b.bench.view()->figures;
    REQUIRE(figures.size() == 4);
    CHECK(figures[2].number == 5);
    CHECK(figures[3].number == 3);
}

TEST_CASE("a session looked at again has its mean spectrum, and its taps can be taken back") {
    Bench b;
    b.session(110, 1);
    const ledger::Id earlier = b.bench.session();
    b.session(108, 4, 0.985, 2);
    const ledger::Id later = b.bench.session();
    b.bench.open_session(earlier);
    b.bench.open_session(later);
    CHECK(b.bench.view()->session_mean);
    CHECK(b.bench.view()->last_tap);
    CHECK(b.bench.undo_tap() != 0);
    CHECK(b.bench.view()->session_mean);
    CHECK(b.bench.undo_tap() != 0);
    CHECK_FALSE(b.bench.view()->session_mean);
    CHECK(b.bench.undo_tap() == 0);
}

TEST_CASE("taps that came without sound can be taken back, down to none") {
    Bench b;
    b.bench.begin_session({.plate = b.plate, .begun = {86'400'000}});
    HeardTap silent = heard(1);
    silent.tap.samples.clear();
    silent.picture = modes::Spectrum{};
    b.bench.keep(silent);
    b.bench.keep(heard(2));
    b.bench.settle();
    Workbench again(b.store, {});
    again.open_plate(b.plate);
    again.open_session(b.bench.session());
    CHECK(again.undo_tap() != 0);
    CHECK(again.undo_tap() != 0);
    CHECK(again.undo_tap() == 0);
    CHECK_FALSE(again.view()->session_mean);
}

TEST_CASE("a refused tap is in the session's list at once") {
    Bench b;
    b.bench.begin_session({.plate = b.plate, .begun = {86'400'000}});
    HeardTap refused = heard(1);
    refused.tap.verdict = taps::Verdict::struck_twice;
    b.bench.keep(refused);
    REQUIRE(b.bench.view()->history.sessions.size() == 1);
    CHECK(b.bench.view()->history.sessions[0].taps.size() == 1);
}

namespace {

/// Takes the recordings of a session's taps off the disk; of the first `how_many`, or damages them.
void lose_recordings(const Bench& b, std::size_t session, std::size_t how_many,
                     bool damage = false) {
    const auto history = b.store.history(b.plate);
    for (std::size_t i = 0; i < how_many; ++i) {
        const std::string& hash = history->sessions.at(session).taps.at(i).recording;
        const auto file =
            b.folder.path() / "ledger" / "recordings" / hash.substr(0, 2) / (hash + ".flac");
        if (damage)
            std::filesystem::resize_file(file, 100);
        else
            std::filesystem::remove(file);
    }
}

} // namespace

TEST_CASE("a lost recording of the newest session or one before keeps nobody out, its figures "
          "count, and it is said once") {
    for (const bool damage : {false, true}) {
        CAPTURE(damage);
        Bench b;
        b.session(110, 1);
        b.session(108, 4, 0.985);
        const auto before = b.bench.view();
        lose_recordings(b, 0, 1, damage);
        lose_recordings(b, 1, 2, damage);
        Workbench again(b.store, {});
        again.open_plate(b.plate);
        const auto view = again.view();
        REQUIRE(view);
        CHECK(view->history.sessions.at(1).taps.size() == 4);
        REQUIRE(figure(*view, 5).now);
        CHECK(figure(*view, 5).now->mode.frequency_hz == figure(*before, 5).now->mode.frequency_hz);
        const auto trouble = again.take_trouble();
        REQUIRE(trouble);
        CHECK(trouble->find("3 recordings") == 0);
        CHECK_FALSE(again.take_trouble());
        again.begin_session({.plate = b.plate, .mass_g = 107});
        CHECK(again.keep(heard(77, 0.98)).id != 0);
        again.settle();
        CHECK_FALSE(again.take_trouble());
        CHECK(track(*again.view(), 5).since_last);
    }
}

TEST_CASE("a session whose taps have no sound is shown, and its taps can be taken back") {
    Bench b;
    b.session(110, 1);
    lose_recordings(b, 0, 4);
    Workbench again(b.store, {});
    again.open_plate(b.plate);
    again.open_session(again.session());
    CHECK(figure(*again.view(), 5).now);
    CHECK(again.undo_tap());
    CHECK(again.view()->history.sessions.at(0).taps.size() == 3);
    CHECK(again.keep(heard(78)).id != 0);
    again.settle();
    CHECK(again.undo_tap());
    while (again.undo_tap()) {
    }
    CHECK(b.store.history(b.plate)->sessions.at(0).taps.empty());
}

TEST_CASE("what is called sure is in no doubt in the sentence beside it") {
    Bench b;
    b.session(110, 1);
    const ledger::Id session = b.bench.session();
    // As an earlier program, or one that knew more, may have left them.
    auto kept = b.store.history(b.plate)->sessions.back().modes;
    int named = 0;
    for (ledger::ModeRecord& mode : kept)
        if (mode.name) {
            mode.name->confidence = mode.name->number == 5 ? 0.5 : 1.0;
            ++named;
        }
    REQUIRE(named >= 2);
    b.store.set_modes(session, kept);
    Workbench again(b.store, {});
    again.open_plate(b.plate);
    const auto view = again.view();
    int looked_at = 0;
    for (const bench::ModeView& figure : view->figures)
        for (const modes::NamedMode& mode : view->naming.modes)
            if (figure.now && mode.name && mode.name->number == figure.number) {
                CHECK(figure.now->name->confidence == mode.name->confidence);
                ++looked_at;
            }
    CHECK(looked_at >= 2);
}

// "named by you" stood over "It is not sure whether mode 5 (ring) is at 360.3 Hz or at 330.9 Hz.";
// the terminal, which named without the maker's words, asked for a tap that the window did not.
TEST_CASE("who names a session heeds what the maker has named in it") {
    Bench b;
    b.session(110, 1);
    ledger::PlateHistory history = *b.store.history(b.plate);
    ledger::SessionHistory& session = history.sessions.back();
    std::vector<modes::Mode> found;
    session.modes.clear();
    for (const double hz : {161.5, 330.9, 360.3}) {
        found.push_back({.frequency_hz = hz, .frequency_sd_hz = 0.1, .q = 55, .taps = 4});
        session.modes.push_back({.session = session.session.id, .mode = found.back()});
    }
    const modes::Naming unsure = bench::name_session(history, session, found);
    REQUIRE_FALSE(unsure.doubt.sentence.empty());
    REQUIRE(unsure.doubt.ask_spot);

    const auto named = [&](int number, std::size_t index) {
        auto by_maker = session;
        by_maker.modes[index].name = modes::ModeName{number, 1.0, true};
        return bench::name_session(history, by_maker, found);
    };
    const int other = unsure.doubt.name == 2 ? 1 : 2;
    const modes::Naming beside = named(other, 0);
    CHECK(beside.modes[0].name == modes::ModeName{other, 1.0, true});
    CHECK(beside.doubt.sentence == unsure.doubt.sentence);
    const modes::Naming settled = named(unsure.doubt.name, 1);
    CHECK(settled.modes[1].name == modes::ModeName{unsure.doubt.name, 1.0, true});
    CHECK(settled.doubt.sentence.empty());
    CHECK_FALSE(settled.doubt.ask_spot);
    for (const std::size_t i : {0U, 2U})
        if (settled.modes[i].name)
            CHECK(settled.modes[i].name->number != unsure.doubt.name);
}
