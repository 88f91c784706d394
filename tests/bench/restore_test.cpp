#include "awaiting.hpp"
#include "bench/copies.hpp"
#include "bench/engine.hpp"
#include "bench/session/fresh_session.hpp"
#include "bench/sound/read_lacking.hpp"
#include "ledger/mend/backups.hpp"
#include "ledger/mend/mend.hpp"
#include "ledger/store.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

#include <chrono>
#include <filesystem>
#include <thread>

using namespace platewright;
using namespace std::chrono_literals;
using bench::Engine;
using bench::Snapshot;
using test::comes_true;
using test::ring;
using test::TemporaryFolder;

namespace {

namespace fs = std::filesystem;

std::size_t regular_copies(const fs::path& folder) {
    std::size_t count = 0;
    for (const ledger::LaidCopy& copy : ledger::copies_in(folder))
        count += copy.kind == ledger::LaidCopy::Kind::regular ? 1 : 0;
    return count;
}

/// A plate with one session of so many good taps, which are not read yet.
ledger::Id fill(ledger::Store& store, int taps) {
    const ledger::Id plate = store.add(ledger::PlateRecord{
        .instrument = store.add(ledger::InstrumentRecord{.label = "Wren"}), .label = "Wren back"});
    const ledger::Id session = store.add({.plate = plate, .begun = {86'400'000}, .mass_g = 104});
    for (int i = 0; i < taps; ++i)
        store.add(ledger::TapRecord{.session = session,
                                    .at = {86'400'000 + i},
                                    .recording = {},
                                    .analysis_version = {},
                                    .partials = {}},
                  ring(static_cast<std::uint32_t>(i)));
    return plate;
}

} // namespace

TEST_CASE("a copy is laid aside at the start, when a session ends and at closing, and none where "
          "nothing changed") {
    TemporaryFolder folder;
    const fs::path ledger = folder.path() / "ledger";
    {
        Engine engine(
            {.ledger_folder = ledger, .replay = {}, .listen_at_once = false, .woken = {}});
        CHECK(comes_true([&] { return regular_copies(ledger) == 1; }));
        engine.send(bench::command::SaveInstrument{{.label = "Wren"}});
        REQUIRE(comes_true([&] { return !engine.snapshot()->instruments->empty(); }));
        const ledger::Id instrument = engine.snapshot()->instruments->front().instrument.id;
        engine.send(bench::command::SavePlate{
            {.instrument = instrument, .label = "Wren back"}}); // opens it
        CHECK(comes_true([&] { return regular_copies(ledger) == 2; }));
        engine.send(bench::command::BeginSession{{.mass_g = 104}});
        REQUIRE(comes_true(
            [&] { return engine.snapshot()->plate && engine.snapshot()->plate->session != 0; }));
        CHECK(comes_true([&] { return regular_copies(ledger) == 3; }));
        ledger::SessionRecord session = engine.snapshot()->plate->history.sessions.front().session;
        session.mass_g = 103; // nothing but the closing copies this
        engine.send(bench::command::SaveSession{session});
        REQUIRE(comes_true([&] {
            return engine.snapshot()->plate->history.sessions.front().session.mass_g == 103;
        }));
        CHECK(regular_copies(ledger) == 3);
    }
    const std::size_t at_closing = regular_copies(ledger);
    CHECK(at_closing == 4);
    {
        Engine engine(
            {.ledger_folder = ledger, .replay = {}, .listen_at_once = false, .woken = {}});
    }
    CHECK(regular_copies(ledger) == at_closing);
    const auto newest = ledger::copies_in(ledger).front();
    fs::create_directory(folder.path() / "copied");
    fs::copy_file(newest.file, folder.path() / "copied" / "ledger.sqlite");
    const auto copied =
        ledger::Store(folder.path() / "copied", ledger::Access::read_only).history(1);
    REQUIRE(copied->sessions.size() == 1);
    CHECK(copied->sessions.front().session.mass_g == 103);
}

TEST_CASE("a copy is laid aside when nothing more came for a while, and not before") {
    const TemporaryFolder folder;
    { ledger::Store(folder.path()).add(ledger::InstrumentRecord{.label = "Wren"}); }
    for (const bool is_quiet : {false, true}) {
        CAPTURE(is_quiet);
        bench::Copies copies(folder.path(), is_quiet ? 0ms : 1h);
        copies.tend(); // the first is of the program's start
        const auto comes = [&](std::size_t count) {
            return comes_true([&] {
                copies.tend();
                return regular_copies(folder.path()) == count;
            });
        };
        REQUIRE(comes(is_quiet ? 2 : 1)); // none is made of what is the same
        { ledger::Store(folder.path()).add(ledger::InstrumentRecord{.label = "Heron"}); }
        copies.note_change();
        if (is_quiet)
            CHECK(comes(3));
        else
            for (int i = 0; i < 20; ++i, std::this_thread::sleep_for(5ms)) {
                copies.tend();
                REQUIRE(regular_copies(folder.path()) == 1);
            }
    }
}

TEST_CASE("a copy put back from the bench shows what it holds and what was kept since, and can be "
          "undone") {
    TemporaryFolder folder;
    const fs::path ledger = folder.path() / "ledger";
    {
        ledger::Store store(ledger);
        const ledger::Id plate = fill(store, 3);
        store.set_setting("plate.last", "1");
        REQUIRE(ledger::back_up(ledger, base::now()));
        const ledger::Id later =
            store.add({.plate = plate, .begun = {5 * 86'400'000LL}, .mass_g = 102});
        store.add(ledger::TapRecord{.session = later,
                                    .at = {5 * 86'400'000LL},
                                    .recording = {},
                                    .analysis_version = {},
                                    .partials = {}},
                  ring(9));
    }
    Engine engine({.ledger_folder = ledger, .replay = {}, .listen_at_once = false, .woken = {}});
    engine.send(bench::command::OpenPlate{1});
    engine.send(bench::command::ListKept{});
    REQUIRE(
        comes_true([&] { return engine.snapshot()->plate && !engine.snapshot()->copies.empty(); }));
    engine.send(bench::command::Restore{"1"});
    REQUIRE(comes_true([&] {
        const auto& notices = engine.snapshot()->notices;
        return !notices.empty() && notices.back().text.find("was put back") != std::string::npos;
    }));
    auto snapshot = engine.snapshot();
    REQUIRE(snapshot->plate);
    REQUIRE(snapshot->plate->history.sessions.size() == 2); // the later one was found again
    CHECK(snapshot->plate->history.sessions[1].session.mass_g == 102);
    CHECK_FALSE(snapshot->plate->history.sessions[1].taps.at(0).partials.empty()); // and read
    CHECK_FALSE(snapshot->ledger_read_only);
    CHECK(snapshot->copies.back().kind == ledger::LaidCopy::Kind::replaced);
    engine.send(bench::command::Restore{"no such copy"});
    CHECK(comes_true(
        [&] { return engine.snapshot()->notices.back().text.find("No such copy") == 0; }));
    engine.send(bench::command::SaveInstrument{
        {.label = "Heron"}}); // the ledger is open for writing as before
    CHECK(comes_true([&] { return engine.snapshot()->instruments->size() == 2; }));
}

TEST_CASE("taps that were brought back are read, and their session has modes again") {
    TemporaryFolder folder;
    ledger::Store store(folder.path());
    const ledger::Id plate = fill(store, 4);
    CHECK(bench::read_lacking(store, {}) == 4);
    const auto history = store.history(plate);
    CHECK(history->sessions.at(0).modes.size() >= 3);
    CHECK_FALSE(history->sessions[0].taps.at(0).partials.empty());
    CHECK(bench::read_lacking(store, {}) == 0);
}

TEST_CASE("a newest session in the future makes the date a question, one of today does not") {
    const base::Timestamp now{1'770'000'000'000};
    const std::int64_t hour_ms = 3'600'000;
    ledger::PlateSummary plate;
    plate.newest = ledger::SessionRecord{.begun = {now.ms_since_epoch + 2 * hour_ms}};
    ledger::InstrumentSummary instrument;
    instrument.plates = {plate, {}};
    CHECK_FALSE(bench::date_in_doubt({}, now));
    CHECK_FALSE(bench::date_in_doubt(std::vector{instrument}, now));
    instrument.plates[0].newest->begun.ms_since_epoch = now.ms_since_epoch + 60 * hour_ms;
    const auto doubt = bench::date_in_doubt(std::vector{instrument}, now);
    REQUIRE(doubt);
    CHECK(doubt->find("2026-02-04") != std::string::npos);
}
