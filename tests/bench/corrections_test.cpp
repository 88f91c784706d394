// What is corrected after the fact heals everything: the history is as if it had been entered so
// from the start, to the last digit.
#include "awaiting.hpp"
#include "bench/session/correct.hpp"
#include "bench/workbench.hpp"
#include "modes/usual_band.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

#include <filesystem>
#include <functional>
#include <map>

using namespace platewright;
using bench::HeardTap;

namespace {

/// A violin back under way, struck in the middle and at the lower end.
const HeardTap& heard_once(std::uint32_t seed, double scale) {
    static std::map<std::pair<std::uint32_t, double>, HeardTap> kept;
    const auto [place, is_new] = kept.try_emplace({seed, scale});
    if (is_new) {
        synth::Normal normal(seed);
        std::vector<synth::Ring> rings{{115, 50, 0.05, 0.3}, {170, 58, 0.10, 1.0},
                                       {222, 60, 0.03, 0.2}, {234, 62, 0.03, 2.0},
                                       {355, 62, 0.20, 0.7}, {410, 64, 0.05, 0.1}};
        for (synth::Ring& ring : rings)
            ring.hz *= scale * (1 + 0.001 * normal());
        place->second = {synth::tap(rings, normal), {}};
        place->second.tap.spot = seed % 2 == 0 ? taps::Spot::centre : taps::Spot::lower_end;
        place->second.partials = modes::fit_tap(place->second.tap).partials;
    }
    return place->second;
}

/// What may be wrong when it is entered.
struct Slip {
    std::function<void(ledger::SessionRecord&)> session = {}; ///< the second one
    modes::InstrumentKind kind = modes::InstrumentKind::violin;
    modes::Part part = modes::Part::back;
    bool wrong_spot = false, another_plates_tap = false; ///< in the second one
    bool takes_410_for_5 = false;                        ///< the maker, in the first one
};

struct CorrectedBench {
    test::TemporaryFolder folder;
    ledger::Store store{folder.path() / "ledger"};
    ledger::Id instrument = 0, plate = 0, other = 0;
    bench::Workbench bench{store, {}};

    /// Four sessions, entered in this order.
    explicit CorrectedBench(const Slip& slip = {},
                            std::array<std::uint32_t, 4> order = {0, 1, 2, 3}) {
        instrument = store.add(ledger::InstrumentRecord{.label = "Wren", .kind = slip.kind});
        plate = store.add(
            ledger::PlateRecord{.instrument = instrument, .part = slip.part, .label = "Wren back"});
        other = store.add(ledger::PlateRecord{.instrument = instrument, .label = "another"});
        for (const std::uint32_t i : order) {
            ledger::SessionRecord session = right(i);
            if (i == 1 && slip.session)
                slip.session(session);
            bench.begin_session(session);
            for (std::uint32_t k = 0; k < 3; ++k) {
                HeardTap tap = heard_once(10 * i + k, 1.0 - 0.02 * i);
                if (i == 1 && slip.wrong_spot)
                    tap.tap.spot = taps::Spot::upper_bout_left;
                bench.keep(tap);
            }
            if (i == 1 && slip.another_plates_tap)
                bench.keep(heard_once(99, 1.09));
            bench.settle();
            if (i == 0 && slip.takes_410_for_5)
                bench.name_mode(410, 5);
        }
    }

    ledger::SessionRecord right(std::uint32_t i) const {
        ledger::SessionRecord session{.plate = plate, .begun = {(20'000 + 7 * i) * 86'400'000LL}};
        session.mass_g = 118.0 - 3.0 * i;
        session.temperature_c = 20.0;
        session.humidity_pct = i == 1 ? 40.0 : 52.0;
        return session;
    }

    void correct() {
        ledger::SessionRecord session = right(1);
        session.id = 2;
        bench.save_session(session);
        bench.reload();
    }

    /// All that is kept of sessions and modes, but for the numbers of the ledger's own rows.
    std::vector<ledger::SessionHistory> kept() const { return kept(store); }
    std::vector<ledger::SessionHistory> kept(const ledger::Store& in) const {
        auto sessions = in.history(plate)->sessions;
        for (ledger::SessionHistory& one : sessions) {
            one.taps.clear(); // their recordings and moments are each bench's own
            for (ledger::ModeRecord& mode : one.modes)
                mode.id = 0;
        }
        return sessions;
    }
};

/// What the bench and the drift show.
std::vector<std::string> shown(const CorrectedBench& b) {
    const auto view = b.bench.view();
    std::vector<std::string> all = view->remarks;
    const auto figure = [&](double value) { all.push_back(std::to_string(value)); };
    for (const bench::ModeView& mode : view->figures)
        for (const double value :
             {static_cast<double>(mode.number), mode.now ? mode.now->mode.frequency_hz : 0.0})
            figure(value);
    for (const trends::TrackDrift& track : view->drift.tracks) {
        figure(track.since_last ? track.since_last->hz : 0.0);
        figure(track.forecast ? track.forecast->hz_per_g : 0.0);
        for (const trends::TrackPoint& point : track.track.points) {
            figure(track.track.name ? track.track.name->number : 0);
            figure(static_cast<double>(point.session));
            figure(point.value.frequency_hz);
            figure(point.confidence);
        }
    }
    return all;
}

} // namespace

TEST_CASE("a mass, stage, air or date corrected later is as if it had been entered right") {
    const CorrectedBench right;
    const std::vector<std::pair<const char*, std::function<void(ledger::SessionRecord&)>>> slips{
        {"mass", [](ledger::SessionRecord& s) { s.mass_g = 127.0; }},
        {"stage", [](ledger::SessionRecord& s) { s.stage = modes::Stage::rough; }},
        {"humidity", [](ledger::SessionRecord& s) { s.humidity_pct = 74.0; }},
        {"no air", [](ledger::SessionRecord& s) { s.temperature_c.reset(); }},
        {"date", [](ledger::SessionRecord& s) { s.begun = {20'100 * 86'400'000LL}; }},
    };
    for (const auto& [what, slip] : slips) {
        CorrectedBench corrected({.session = slip});
        CAPTURE(what);
        corrected.correct();
        CHECK(corrected.kept() == right.kept());
        CHECK(shown(corrected) == shown(right));
    }
}

TEST_CASE("what is moved, dated or told of another kind is named as if it had been entered so") {
    using namespace bench::command;
    const CorrectedBench right;
    const ledger::SessionHistory second = right.store.history(right.plate)->sessions[1];
    const ledger::InstrumentRecord violin = right.store.history(right.plate)->instrument;
    const ledger::PlateRecord back = right.store.history(right.plate)->plate;
    struct Case {
        const char* what;
        Slip slip;
        std::vector<bench::Command> corrections;
    };
    std::vector<bench::Command> spots;
    for (const ledger::TapRecord& tap : second.taps)
        spots.emplace_back(SetSpot{tap.id, tap.spot});
    const std::vector<Case> cases{
        {"its day",
         {.session = [](auto& s) { s.begun = {20'100 * 86'400'000LL}; }},
         {SetBegun{second.session.id, second.session.begun}}},
        {"its plate",
         {.session = [](auto& s) { s.plate = 2; }},
         {MoveSession{second.session.id, right.plate}}},
        {"the instrument's kind", {.kind = modes::InstrumentKind::viola}, {SaveInstrument{violin}}},
        {"the part", {.part = modes::Part::top}, {SavePlate{back}}},
        {"where the taps were struck, of a session that is not on the bench",
         {.wrong_spot = true},
         spots},
        {"another plate's tap, in a session that is not on the bench",
         {.another_plates_tap = true},
         {Bin{"tap", second.taps.back().id + 1}}},
    };
    for (const auto& [what, slip, corrections] : cases) {
        CAPTURE(what);
        const CorrectedBench wrong(slip);
        CHECK(wrong.kept() != right.kept());
        const auto place = wrong.folder.path() / "copy"; // the store of `wrong` has the lock
        std::filesystem::copy(wrong.folder.path() / "ledger", place,
                              std::filesystem::copy_options::recursive);
        {
            bench::Engine engine({.ledger_folder = place, .listen_at_once = false});
            for (const bench::Command& correction : corrections)
                engine.send(correction);
            const auto shown = test::shown_in_time(engine, [&](const bench::Snapshot& now) {
                return now.executed >= corrections.size();
            });
            for (const auto& notice : shown->notices)
                CHECK_FALSE(notice.grave);
        }
        const ledger::Store corrected(place, ledger::Access::read_only);
        CHECK(wrong.kept(corrected) == right.kept());
    }
}

TEST_CASE("a session entered after later ones names them as if it had been there first") {
    const auto unnumbered = [](std::vector<ledger::SessionHistory> sessions) {
        for (ledger::SessionHistory& one : sessions) { // numbered as they were entered
            one.session.id = 0;
            for (ledger::ModeRecord& mode : one.modes)
                mode.session = 0;
        }
        return sessions;
    };
    const auto right = unnumbered(CorrectedBench().kept());
    for (const auto& order : {std::array<std::uint32_t, 4>{1, 2, 3, 0}, {3, 2, 1, 0}, {0, 3, 1, 2}})
        CHECK(unnumbered(CorrectedBench({}, order).kept()) == right);
}

TEST_CASE("a name given by hand in an early session binds the sessions after it, whenever given") {
    CorrectedBench later;
    later.bench.open_session(1);
    later.bench.name_mode(410, 5);
    const CorrectedBench at_once({.takes_410_for_5 = true});
    CHECK(later.kept() == at_once.kept());
    CHECK(later.kept() != CorrectedBench().kept());
}

TEST_CASE("an instrument told of another kind is heard in the band of that kind") {
    const test::TemporaryFolder folder;
    synth::Normal normal(7);
    const std::vector<synth::Ring> rings{
        {24, 40, 0.2, 0.3}, {58, 45, 0.2, 1.0}, {121, 50, 0.2, 0.2}};
    const taps::Tap tap = synth::tap(rings, normal);
    const auto entered_as = [&](modes::InstrumentKind kind, const char* name) {
        ledger::Store store(folder.path() / name);
        const auto instrument = store.add(ledger::InstrumentRecord{.label = "Bratz", .kind = kind});
        const auto plate = store.add(ledger::PlateRecord{
            .instrument = instrument, .part = modes::Part::back, .label = "Bratz back"});
        const modes::FitParams fit{.low_hz = modes::usual_band(kind, modes::Part::back).low_hz};
        bench::Workbench bench(store, fit);
        bench.begin_session({.plate = plate, .begun = {20'000 * 86'400'000LL}});
        for (int k = 0; k < 3; ++k)
            bench.keep({tap, modes::fit_tap(tap, fit).partials});
        bench.settle();
        auto corrected = store.history(plate)->instrument;
        corrected.kind = modes::InstrumentKind::cello;
        bench::Workbench(store, {}).heal(bench::correct(store, corrected));
        std::vector<double> hz;
        for (const ledger::ModeRecord& mode : store.history(plate)->sessions.front().modes)
            hz.push_back(mode.mode.frequency_hz);
        return hz;
    };
    const auto right = entered_as(modes::InstrumentKind::cello, "right");
    const auto mended = entered_as(modes::InstrumentKind::violin, "mended");
    REQUIRE_FALSE(right.empty());
    CHECK(right.front() == Approx(24).margin(0.5));
    REQUIRE(mended.size() == right.size()); // what is kept of the sound is rounded to 24 bits
    for (std::size_t i = 0; i < right.size(); ++i)
        CHECK(mended[i] == Approx(right[i]).epsilon(1e-8));
}

TEST_CASE("what can't be of another part is refused, and nothing is changed") {
    CorrectedBench b;
    const ledger::Id top = b.store.add(ledger::PlateRecord{
        .instrument = b.instrument, .part = modes::Part::top, .label = "Wren top"});
    const ledger::Id barred = b.store.add(ledger::SessionRecord{
        .plate = top, .begun = {20'050 * 86'400'000LL}, .stage = modes::Stage::bar_fitted});
    CHECK_THROWS_AS(bench::correct(b.store, bench::command::MoveSession{barred, b.plate}),
                    bench::CannotBe);
    ledger::PlateRecord back = b.store.history(top)->plate;
    back.part = modes::Part::back;
    CHECK_THROWS_AS(bench::correct(b.store, back), bench::CannotBe);
    CHECK(b.store.history(top)->plate.part == modes::Part::top);
    CHECK(b.store.history(top)->sessions.size() == 1);
}
