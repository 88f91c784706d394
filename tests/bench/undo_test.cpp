#include "awaiting.hpp"
#include "base/failure.hpp"
#include "bench/engine.hpp"
#include "ledger/store.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"
#include "trends/model/plate_form.hpp"

#include <chrono>
#include <thread>

using namespace platewright;
using namespace std::chrono_literals;
using bench::Engine;
using bench::Snapshot;
using test::ring;
using test::TemporaryFolder;

namespace {

template <class Condition>
std::shared_ptr<const Snapshot> await_snapshot(const Engine& engine, const Condition& met) {
    auto snapshot = test::shown_in_time(engine, met);
    REQUIRE(met(*snapshot));
    return snapshot;
}

/// Two instruments, two plates; on the first plate two sessions, one with three taps and a map.
struct Workshop {
    TemporaryFolder folder;
    ledger::Id wren = 0, heron = 0, back = 0, other = 0, first = 0, second = 0, tap = 0;
    Workshop() {
        ledger::Store store(folder.path());
        wren = store.add(ledger::InstrumentRecord{.label = "Wren"});
        heron = store.add(ledger::InstrumentRecord{.label = "Heron"});
        back = store.add(ledger::PlateRecord{.instrument = wren, .label = "Wren back"});
        other = store.add(ledger::PlateRecord{.instrument = heron, .label = "Heron back"});
        first = store.add({.plate = back, .begun = {86'400'000}, .mass_g = 104.25});
        second = store.add({.plate = back, .begun = {2 * 86'400'000}, .mass_g = 103});
        for (std::uint32_t i = 0; i < 3; ++i)
            tap = store.add(ledger::TapRecord{.session = first,
                                              .at = {86'400'000 + i},
                                              .spot = taps::Spot::centre,
                                              .recording = {},
                                              .analysis_version = {},
                                              .partials = {}},
                            ring(i));
        store.add(ledger::TapRecord{.session = second,
                                    .at = {2 * 86'400'000},
                                    .recording = {},
                                    .analysis_version = {},
                                    .partials = {}},
                  ring(9));
        store.set_form(back, trends::usual_form({}));
        std::vector<plate::ThicknessReading> map;
        for (int i = 0; i < 12; ++i)
            map.push_back({{-40.0 + 20.0 * (i % 5), 40.0 + 22.0 * i}, 3.5 + 0.0625 * i, {}});
        store.set_thickness(first, map);
    }
    bench::EngineParams params() const {
        return {.ledger_folder = folder.path(), .replay = {}, .listen_at_once = false, .woken = {}};
    }
    /// All that is kept of the two plates, without what an analysis makes of it.
    std::vector<ledger::PlateHistory> kept() const {
        const ledger::Store store(folder.path(), ledger::Access::read_only);
        std::vector<ledger::PlateHistory> all;
        for (const ledger::Id plate : {back, other}) {
            all.push_back(store.history(plate).value());
            for (ledger::SessionHistory& session : all.back().sessions) {
                session.modes.clear();
                session.thickness.id = 0;
                session.thickness.at = {};
            }
        }
        return all;
    }
};

} // namespace

TEST_CASE("what a maker did last is undone, whatever it was, and the ledger is as before") {
    const Workshop shop;
    using namespace bench::command;
    const auto before = shop.kept();
    const auto session = before[0].sessions[0].session;
    auto corrected = session;
    corrected.mass_g = 110.5;
    corrected.notes = "typed in the wrong line";
    auto renamed = before[0].plate;
    renamed.label = "Wren top";
    auto relabelled = before[0].instrument;
    relabelled.label = "Sparrow";
    const std::vector<bench::Command> acts{
        SaveSession{corrected},
        SavePlate{renamed},
        SaveInstrument{relabelled},
        MoveSession{shop.first, shop.other},
        MovePlate{shop.back, shop.heron},
        SetBegun{shop.first, base::Timestamp{5 * 86'400'000}},
        SetSpot{shop.tap, taps::Spot::lower_end},
        TakeOutReadings{shop.first, {0}},
        TakeOutReadings{shop.first, {0, 1}},
        SetTargets{{{5, 348.5}, {2, 161.0}}},
        Bin{"tap", shop.tap},
        Bin{"session", shop.first},
        BeginSession{{.plate = shop.back, .mass_g = 102}},
    };
    for (const bench::Command& act : acts) {
        INFO("command " << act.index());
        {
            Engine engine(shop.params());
            engine.send(OpenPlate{shop.back});
            await_snapshot(engine, [](const Snapshot& s) { return s.plate != nullptr; });
            engine.send(act);
            await_snapshot(engine, [](const Snapshot& s) { return !s.undoable.empty(); });
            CHECK(shop.kept() != before);
            engine.send(UndoLast{});
            const auto after =
                await_snapshot(engine, [](const Snapshot& s) { return s.undoable.empty(); });
            INFO(after->notices.back().text);
            CHECK_FALSE(after->notices.back().grave);
        }
        CHECK(shop.kept() == before);
    }
}

TEST_CASE("a session that is asked for while an empty one is open goes on, and undoing does not "
          "take it away") {
    const Workshop shop;
    Engine engine(shop.params());
    engine.send(bench::command::OpenPlate{shop.back});
    engine.send(bench::command::BeginSession{{.plate = shop.back, .mass_g = 102}});
    await_snapshot(engine, [](const Snapshot& s) { return !s.undoable.empty(); });
    engine.send(bench::command::SetSpot{shop.tap, taps::Spot::lower_end});
    engine.send(bench::command::BeginSession{{.plate = shop.back}});
    engine.send(bench::command::UndoLast{});
    await_snapshot(engine, [](const Snapshot& s) { return s.notices.size() >= 2; });
    const auto kept = shop.kept()[0];
    CHECK(kept.sessions.size() == 3);
    CHECK(kept.sessions[0].taps.back().spot == taps::Spot::centre);
}

TEST_CASE("an act is undone where it was done, though another plate lies on the bench") {
    const Workshop shop;
    {
        ledger::Store store(shop.folder.path());
        store.add({.plate = shop.other, .begun = {86'400'000}, .mass_g = 98});
    }
    const auto before = shop.kept();
    auto form = *before[0].form;
    form.size.length_mm = 361.25;
    auto map = before[0].sessions[0].thickness.readings;
    map.front().thickness_mm = 4.5;
    const std::vector<bench::Command> acts{bench::command::SetForm{form},
                                           bench::command::SetThickness{shop.first, map},
                                           bench::command::NameMode{355.0, 5}};
    for (const bench::Command& act : acts) {
        INFO("command " << act.index());
        {
            Engine engine(shop.params());
            engine.send(bench::command::OpenPlate{shop.back});
            engine.send(bench::command::OpenSession{shop.first});
            engine.send(act);
            await_snapshot(engine, [](const Snapshot& s) { return !s.undoable.empty(); });
            engine.send(bench::command::OpenPlate{shop.other});
            engine.send(bench::command::UndoLast{});
            const auto after =
                await_snapshot(engine, [](const Snapshot& s) { return s.undoable.empty(); });
            CHECK(after->plate->history.plate.id == shop.back);
            CHECK(after->plate->session == shop.first);
        }
        CHECK(shop.kept() == before);
        const ledger::Store store(shop.folder.path(), ledger::Access::read_only);
        const ledger::PlateHistory other = store.history(shop.other).value();
        for (const auto& session : other.sessions)
            CHECK(std::ranges::none_of(session.modes,
                                       [](const auto& m) { return m.name && m.name->by_maker; }));
    }
}

TEST_CASE("undoing goes back step by step, and says when there is nothing left") {
    const Workshop shop;
    Engine engine(shop.params());
    engine.send(bench::command::OpenPlate{shop.back});
    engine.send(bench::command::SetSpot{shop.tap, taps::Spot::lower_end});
    engine.send(bench::command::SetSpot{shop.tap, taps::Spot::upper_end});
    engine.send(
        bench::command::MoveSession{shop.first, 999}); // can't be, and leaves nothing to undo
    await_snapshot(engine,
                   [](const Snapshot& s) { return !s.notices.empty() && !s.undoable.empty(); });
    const auto spot = [&] { return shop.kept()[0].sessions[0].taps.back().spot; };
    CHECK(spot() == taps::Spot::upper_end);
    engine.send(bench::command::UndoLast{});
    await_snapshot(engine, [](const Snapshot& s) { return s.notices.size() == 2; });
    CHECK(spot() == taps::Spot::lower_end);
    engine.send(bench::command::UndoLast{});
    await_snapshot(engine, [](const Snapshot& s) { return s.undoable.empty(); });
    CHECK(spot() == taps::Spot::centre);
    engine.send(bench::command::UndoLast{});
    await_snapshot(engine, [](const Snapshot& s) {
        return s.notices.back().text.find("nothing to undo") != std::string::npos;
    });
}

TEST_CASE("what is asked just before the window closes is done") {
    const Workshop shop;
    auto session = shop.kept()[0].sessions[1].session;
    for (int i = 1; i <= 20; ++i) { // the engine may be anywhere in its round
        Engine engine(shop.params());
        engine.send(bench::command::OpenPlate{shop.back});
        session.mass_g = 90.0 + 0.125 * i;
        engine.send(bench::command::SaveSession{session});
        std::this_thread::sleep_for(std::chrono::microseconds(500 * i));
    }
    CHECK(shop.kept()[0].sessions[1].session.mass_g == 90.0 + 0.125 * 20);
}

TEST_CASE(
    "an errand that reads is done aside, one that writes by the bench, and what fails is told") {
    const Workshop shop;
    Engine engine(shop.params());
    const auto done = [](const Snapshot& s) { return s.errand && s.errand->done; };
    const auto bench_thread = std::this_thread::get_id();
    std::thread::id reader;
    engine.send(bench::command::RunErrand{
        {.doing = "reading", .act = [&](ledger::Store& store, const ledger::Progress& progress) {
             reader = std::this_thread::get_id();
             CHECK(store.read_only());
             CHECK(progress(0.5));
             return bench::ErrandOutcome{.sentence = "read", .file = "sheet.pdf"};
         }}});
    auto shown = await_snapshot(engine, done);
    CHECK(reader != bench_thread);
    CHECK(shown->errand->outcome.good);
    CHECK(shown->errand->outcome.sentence == "read");
    CHECK(shown->errand->outcome.file == "sheet.pdf");
    engine.send(
        bench::command::RunErrand{{.doing = "writing",
                                   .writes = true,
                                   .act = [](ledger::Store& store, const ledger::Progress&) {
                                       store.add(ledger::InstrumentRecord{.label = "Sparrow"});
                                       return bench::ErrandOutcome{.sentence = "written"};
                                   }}});
    shown = await_snapshot(engine, [](const Snapshot& s) { return s.instruments->size() == 3; });
    shown = await_snapshot(
        engine, [](const Snapshot& s) { return s.errand->outcome.sentence == "written"; });
    engine.send(bench::command::RunErrand{
        {.doing = "failing",
         .act = [](ledger::Store&, const ledger::Progress&) -> bench::ErrandOutcome {
             throw base::Failure("the stick was pulled out");
         }}});
    shown = await_snapshot(
        engine, [](const Snapshot& s) { return s.errand->number == 3 && s.errand->done; });
    CHECK_FALSE(shown->errand->outcome.good);
    CHECK(shown->errand->outcome.sentence == "the stick was pulled out");
}

TEST_CASE("an errand is left off when the maker says so") {
    const Workshop shop;
    Engine engine(shop.params());
    for (const bool writes : {false, true}) {
        engine.send(bench::command::RunErrand{
            {.doing = "going on",
             .writes = writes,
             .act = [](ledger::Store&, const ledger::Progress& progress) {
                 const auto until = std::chrono::steady_clock::now() + 20s;
                 while (progress(0.25)) {
                     if (std::chrono::steady_clock::now() > until)
                         return bench::ErrandOutcome{.good = false,
                                                     .sentence = "never told to stop"};
                     std::this_thread::sleep_for(2ms);
                 }
                 return bench::ErrandOutcome{.sentence = "stopped"};
             }}});
        await_snapshot(engine, [](const Snapshot& s) {
            return s.errand && !s.errand->done && s.errand->share == 0.25;
        });
        engine.send(bench::command::StopWork{});
        const auto shown =
            await_snapshot(engine, [](const Snapshot& s) { return s.errand && s.errand->done; });
        CHECK(shown->errand->outcome.sentence == "stopped");
    }
}
