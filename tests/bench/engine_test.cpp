#include "audio/recording.hpp"
#include "awaiting.hpp"
#include "bench/engine.hpp"
#include "bench/sound/listening.hpp"
#include "bench/workbench.hpp"
#include "ledger/store.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

#include <chrono>
#include <sndfile.h>
#include <thread>

using namespace platewright;
using namespace std::chrono_literals;
using bench::Engine;
using bench::Snapshot;
using test::k_back;
using test::plate_of_days_ago;
using test::strikes;
using test::TemporaryFolder;
using test::two_taps;
using test::write_wav;

namespace {

/// Waits until the engine shows what is asked for; gives the newest snapshot either way.
template <class Condition>
std::shared_ptr<const Snapshot> await(const Engine& engine, const Condition& met) {
    auto snapshot = test::shown_in_time(engine, met);
    CHECK(met(*snapshot));
    return snapshot;
}

ledger::Id new_plate(Engine& engine) {
    engine.send(bench::command::SaveInstrument{{.label = "Wren"}});
    auto snapshot = await(engine, [](const Snapshot& s) { return !s.instruments->empty(); });
    engine.send(bench::command::SavePlate{
        {.instrument = snapshot->instruments->front().instrument.id, .label = "Wren back"}});
    snapshot = await(engine, [](const Snapshot& s) { return s.plate != nullptr; });
    return snapshot->plate->history.plate.id;
}

} // namespace

TEST_CASE("a first reading has figures a quarter of a second after the strike, and the final ones "
          "lie near them") {
    TemporaryFolder folder;
    auto recording = audio::Recording::open(two_taps(folder.path()));
    REQUIRE(recording);
    bench::Listening listening(std::move(*recording), {}, bench::Listening::FirstReadings::yes);
    std::vector<bench::HeardTap> first, final;
    double heard_s = 0;
    for (bool ended = false; !ended;) {
        auto step = listening.step();
        ended = step.ended;
        heard_s += static_cast<double>(step.frames) / 48000;
        if (step.first_reading) {
            CHECK(heard_s - step.first_reading->tap.onset_s() < 0.25);
            first.push_back(std::move(*step.first_reading));
        }
        for (auto& tap : step.taps)
            final.push_back(std::move(tap));
    }
    REQUIRE(first.size() == 2);
    REQUIRE(final.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        const auto &strongest = first[i].partials.back(), &settled = final[i].partials.back();
        CHECK(first[i].tap.verdict == taps::Verdict::accepted);
        REQUIRE(first[i].partials.size() == 3);
        CHECK(strongest.frequency_hz == Approx(355).margin(1));
        CHECK(settled.frequency_hz == Approx(strongest.frequency_hz).margin(0.1));
    }
}

TEST_CASE("taps heard in a session are kept, and shown as kept only then") {
    TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger";
    ledger::Id plate = 0;
    {
        Engine engine(
            {.ledger_folder = ledger, .replay = two_taps(folder.path()), .listen_at_once = false});
        plate = new_plate(engine);
        engine.send(bench::command::BeginSession{{.mass_g = 112.5}});
        engine.send(bench::command::StrikeAt{taps::Spot::centre});
        engine.send(bench::command::Listen{true});
        bool rang = false;
        const auto shown = await(engine, [&](const Snapshot& s) {
            rang = rang || (s.tap && s.tap->fate == bench::TapFate::ringing);
            if (s.tap && s.tap->fate == bench::TapFate::kept)
                CHECK(s.tap->record.id != 0);
            return s.plate && s.plate->history.sessions.size() == 1 &&
                   s.plate->history.sessions[0].taps.size() == 2 &&
                   s.input.state == bench::InputState::ended;
        });
        CHECK(rang);
        CHECK(shown->plate->session_mean);
    }
    const ledger::Store store(ledger, ledger::Access::read_only);
    const auto history = store.history(plate);
    REQUIRE(history);
    REQUIRE(history->sessions.size() == 1);
    REQUIRE(history->sessions[0].taps.size() == 2);
    CHECK(history->sessions[0].session.mass_g == 112.5);
    CHECK(history->sessions[0].taps[0].spot == taps::Spot::centre);
    const taps::Tap sound = store.load(history->sessions[0].taps[0]);
    CHECK(sound.samples.size() > 20000);
    CHECK_FALSE(history->sessions[0].modes.empty());
}

TEST_CASE("a session whose mass can't be is refused, and none is begun") {
    TemporaryFolder folder;
    Engine engine({.ledger_folder = folder.path() / "ledger", .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::BeginSession{{.mass_g = 10.45}});
    const auto refused = await(engine, [](const Snapshot& s) {
        return std::any_of(s.notices.begin(), s.notices.end(), [](const auto& n) {
            return n.text.find("can't be the mass") != std::string::npos;
        });
    });
    CHECK(refused->plate->history.sessions.empty());
}

TEST_CASE("the bench opens on the plate last worked on") {
    TemporaryFolder folder;
    ledger::Id plate = 0;
    {
        Engine engine({.ledger_folder = folder.path(), .listen_at_once = false});
        plate = new_plate(engine);
    }
    Engine again({.ledger_folder = folder.path(), .listen_at_once = false});
    const auto snapshot = again.snapshot();
    REQUIRE(snapshot->plate);
    CHECK(snapshot->plate->history.plate.id == plate);
}

TEST_CASE("a second bench on the same ledger reads, keeps nothing and says so") {
    TemporaryFolder folder;
    Engine first({.ledger_folder = folder.path(), .listen_at_once = false});
    new_plate(first);
    Engine second({.ledger_folder = folder.path(), .listen_at_once = false});
    CHECK(second.snapshot()->ledger_read_only);
    REQUIRE_FALSE(second.snapshot()->notices.empty());
    second.send(bench::command::SaveInstrument{{.label = "Other"}});
    const auto snapshot = await(second, [](const Snapshot& s) { return s.notices.size() >= 2; });
    CHECK(snapshot->notices.back().grave);
    CHECK(first.snapshot()->instruments->size() == 1);
}

TEST_CASE("what can't be done becomes a notice and the bench goes on") {
    TemporaryFolder folder;
    Engine engine({.ledger_folder = folder.path(), .listen_at_once = false});
    engine.send(bench::command::BeginSession{});
    auto snapshot = await(engine, [](const Snapshot& s) { return !s.notices.empty(); });
    CHECK(snapshot->notices.back().grave);
    engine.send(bench::command::UndoTap{});
    snapshot = await(engine, [](const Snapshot& s) { return s.notices.size() >= 2; });
    new_plate(engine);
}

TEST_CASE("a recording that can't be read leaves the bench up, with the reason") {
    TemporaryFolder folder;
    Engine engine(
        {.ledger_folder = folder.path() / "ledger", .replay = folder.path() / "missing.wav"});
    const auto snapshot = await(engine, [](const Snapshot& s) { return !s.input.trouble.empty(); });
    CHECK(snapshot->input.state == bench::InputState::missing);
    CHECK_THAT(snapshot->input.trouble, ContainsSubstring("is not there"));
}

// The drawing went on to a bout's edge while "3 more good taps here: centre." stood below it, and
// who went by the sentence was counted at the edge.
TEST_CASE("the spots go on to where the sentence asks for taps") {
    TemporaryFolder folder;
    const std::vector<synth::Ring> no_ring_mode{{115, 50, 0.05, 0.3}, {170, 58, 0.2, 1.0}};
    Engine engine(
        {.ledger_folder = folder.path() / "ledger",
         .replay = test::strikes(folder.path(), {no_ring_mode, no_ring_mode, no_ring_mode}),
         .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::SetHabits{{.taps_a_spot = 3}});
    engine.send(bench::command::BeginSession{});
    engine.send(bench::command::StrikeAt{taps::Spot::lower_end});
    engine.send(bench::command::Listen{true});
    const auto shown = await(engine, [](const Snapshot& s) {
        return s.plate && !s.plate->history.sessions.empty() &&
               s.plate->history.sessions[0].taps.size() == 3;
    });
    REQUIRE(shown->plate->decision.advice == trends::Advice::tap);
    REQUIRE(shown->plate->decision.spot == taps::Spot::centre); // mode 5 is not there
    CHECK(shown->striking_at == taps::Spot::centre);
}

TEST_CASE("a tap taken back is put back, and the spots go on by themselves") {
    TemporaryFolder folder;
    Engine engine({.ledger_folder = folder.path() / "ledger",
                   .replay = two_taps(folder.path()),
                   .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::SetHabits{{.taps_a_spot = 1}});
    engine.send(bench::command::BeginSession{});
    engine.send(bench::command::StrikeAt{taps::Spot::centre});
    engine.send(bench::command::Listen{true});
    const auto count = [](const Snapshot& s) {
        return s.plate && !s.plate->history.sessions.empty()
                   ? s.plate->history.sessions[0].taps.size()
                   : 0;
    };
    auto shown = await(engine, [&](const Snapshot& s) { return count(s) == 2; });
    // One good tap at each: from the centre to an end, and on to a bout's edge.
    CHECK(shown->plate->history.sessions[0].taps[0].spot == taps::Spot::centre);
    CHECK(shown->plate->history.sessions[0].taps[1].spot == taps::Spot::upper_end);
    CHECK(shown->striking_at == taps::Spot::lower_bout_right);
    const ledger::Id second = shown->plate->history.sessions[0].taps[1].id;
    engine.send(bench::command::UndoTap{});
    shown =
        await(engine, [&](const Snapshot& s) { return count(s) == 1 && s.taps_to_put_back == 1; });
    engine.send(bench::command::RedoTap{});
    shown =
        await(engine, [&](const Snapshot& s) { return count(s) == 2 && s.taps_to_put_back == 0; });
    CHECK(shown->plate->history.sessions[0].taps[1].id == second);
    CHECK(shown->plate->figures[2].now->mode.taps == 2);

    // What was kept a moment ago can be looked into: its fit leaves little over.
    engine.send(bench::command::StudyTap{second});
    shown = await(engine, [](const Snapshot& s) { return s.study != nullptr; });
    CHECK(shown->study->tap == second);
    CHECK(shown->study->left_db < -20);
    engine.send(bench::command::StudyTap{0});
    await(engine, [](const Snapshot& s) { return s.study == nullptr; });
}

namespace {

bool is_over(const Snapshot& s) { return s.input.state == bench::InputState::ended; }

} // namespace

TEST_CASE("in the morning the first good tap begins today's session, and every green answer is in "
          "the ledger") {
    TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger";
    const auto sound = two_taps(folder.path());
    const ledger::Id plate = plate_of_days_ago(ledger, 3, sound);
    int said_begun = 0, green = 0;
    {
        Engine engine({.ledger_folder = ledger, .replay = sound, .listen_at_once = false});
        engine.send(bench::command::OpenPlate{plate});
        engine.send(bench::command::Listen{true});
        std::int64_t last_onset = -1;
        const auto shown = await(engine, [&](const Snapshot& s) {
            if (s.tap && s.tap->fate == bench::TapFate::kept &&
                s.tap->record.onset_frame != last_onset) {
                last_onset = s.tap->record.onset_frame;
                ++green;
                said_begun += s.tap->began_session;
                CHECK(s.tap->record.id != 0);
            }
            return is_over(s) && s.plate && s.plate->history.sessions.size() == 2;
        });
        CHECK(shown->notices.empty());
    }
    CHECK(green == 2);
    CHECK(said_begun == 1);
    const ledger::Store store(ledger, ledger::Access::read_only);
    const auto history = store.history(plate);
    REQUIRE(history->sessions.size() == 2);
    CHECK(history->sessions[0].taps.size() == 2);
    CHECK(history->sessions[1].taps.size() == 2);
    CHECK(history->sessions[1].session.stage == modes::Stage::graduated);
    CHECK_FALSE(history->sessions[1].session.mass_g);
    CHECK(base::local_date(history->sessions[1].session.begun) == base::local_date(base::now()));
}

TEST_CASE("without a plate a good tap is answered as not kept, with what to do") {
    TemporaryFolder folder;
    Engine engine({.ledger_folder = folder.path() / "ledger", .replay = two_taps(folder.path())});
    const auto shown =
        await(engine, [](const Snapshot& s) { return is_over(s) && s.tap.has_value(); });
    CHECK(shown->tap->record.verdict == taps::Verdict::accepted);
    CHECK(shown->tap->fate == bench::TapFate::not_kept);
    CHECK_THAT(shown->tap->why_not_kept, ContainsSubstring("plate first"));
}

TEST_CASE("a tap that the disk does not take is answered as not kept") {
    TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger";
    Engine engine(
        {.ledger_folder = ledger, .replay = two_taps(folder.path()), .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::BeginSession{});
    await(engine, [](const Snapshot& s) { return s.plate && s.plate->session != 0; });
    std::filesystem::rename(ledger, folder.path() / "gone");
    engine.send(bench::command::Listen{true});
    const auto shown = await(engine, [](const Snapshot& s) {
        CHECK_FALSE((s.tap && s.tap->fate == bench::TapFate::kept));
        return is_over(s) && s.tap && s.tap->fate == bench::TapFate::not_kept;
    });
    CHECK_FALSE(shown->tap->why_not_kept.empty());
    CHECK(shown->notices.back().grave);
}

TEST_CASE("while a tap rings its own figures and spectrum are shown, not the one's before") {
    TemporaryFolder folder;
    auto lower = k_back;
    for (auto& ring : lower)
        ring.hz *= 0.994;
    Engine engine({.ledger_folder = folder.path() / "ledger",
                   .replay = strikes(folder.path(), {k_back, k_back, lower}),
                   .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::BeginSession{});
    engine.send(bench::command::Listen{true});
    bool seen = false;
    await(engine, [&](const Snapshot& s) {
        if (s.tap && s.tap->fate == bench::TapFate::ringing &&
            s.tap->record.onset_frame > 3 * 48000) {
            seen = true;
            for (const auto& one : s.tap->named)
                if (one.number == 5)
                    CHECK(one.frequency_hz == Approx(0.994 * 355).margin(0.7));
            REQUIRE(s.plate->last_tap);
            const auto& level = s.plate->last_tap->spectrum.level_dbfs;
            REQUIRE(level.size() > 800);
            const auto loudest =
                std::max_element(level.begin() + 600, level.begin() + 800); // 300 to 400 Hz
            CHECK(0.5 * static_cast<double>(loudest - level.begin()) ==
                  Approx(0.994 * 355).margin(0.8));
        }
        return is_over(s);
    });
    CHECK(seen);
}

TEST_CASE("a notice that comes once more is a new one: put away, it is read again") {
    TemporaryFolder folder;
    Engine engine({.ledger_folder = folder.path(), .listen_at_once = false});
    engine.send(bench::command::UndoTap{});
    auto shown = await(engine, [](const Snapshot& s) { return !s.notices.empty(); });
    const auto first = shown->notices.back();
    engine.send(bench::command::UndoTap{});
    shown =
        await(engine, [&](const Snapshot& s) { return s.notices.back().number > first.number; });
    CHECK(shown->notices.back().text == first.text);
    CHECK(shown->notices.size() == 1);
}

TEST_CASE("a tap of another plate is asked about, not counted, and the maker's word counts it") {
    TemporaryFolder folder;
    const std::vector<synth::Ring> other{{141, 50, 0.05}, {203, 58, 0.1}, {303, 62, 0.2}};
    Engine engine({.ledger_folder = folder.path() / "ledger",
                   .replay = strikes(folder.path(), {k_back, k_back, other}),
                   .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::BeginSession{});
    engine.send(bench::command::Listen{true});
    auto shown = await(engine, [](const Snapshot& s) {
        return is_over(s) && s.plate->history.sessions[0].taps.size() == 3;
    });
    CHECK(shown->tap->record.verdict == taps::Verdict::stranger);
    CHECK(shown->tap->fate == bench::TapFate::refused);
    CHECK(shown->plate->figures[2].now->mode.taps == 2);
    const ledger::Id strange = shown->tap->record.id;
    CHECK(strange != 0);
    engine.send(bench::command::CountTap{strange});
    shown = await(engine,
                  [](const Snapshot& s) { return s.tap && s.tap->fate == bench::TapFate::kept; });
    CHECK(shown->plate->history.sessions[0].taps[2].verdict == taps::Verdict::vouched);
    CHECK(shown->plate->naming.modes.size() > 3);
}

TEST_CASE("a glass on the bench is asked about with the first tap: no wood rings so long") {
    TemporaryFolder folder;
    const std::vector<synth::Ring> glass{{640, 900, 0.2}, {1480, 700, 0.1}};
    Engine engine({.ledger_folder = folder.path() / "ledger",
                   .replay = strikes(folder.path(), {glass}),
                   .listen_at_once = false});
    new_plate(engine);
    engine.send(bench::command::BeginSession{});
    engine.send(bench::command::Listen{true});
    const auto shown = await(engine, [](const Snapshot& s) { return is_over(s) && s.tap; });
    CHECK(shown->tap->record.verdict == taps::Verdict::stranger);
    CHECK(shown->plate->naming.modes.empty());
}

TEST_CASE(
    "an input from which nothing comes is told as silent after some seconds, and a room is not") {
    TemporaryFolder folder;
    std::vector<double> sound(static_cast<std::size_t>(5 * 48000));
    write_wav(folder.path() / "dead.wav", sound);
    synth::Normal normal(3);
    synth::add_noise(sound, 1e-4, normal);
    write_wav(folder.path() / "room.wav", sound);
    for (const char* const name : {"dead", "room"}) {
        Engine engine({.ledger_folder = folder.path() / "ledger",
                       .replay = folder.path() / (std::string(name) + ".wav")});
        bool silent = false;
        await(engine, [&](const Snapshot& s) {
            silent = silent || s.input.silent;
            return is_over(s);
        });
        CHECK(silent == (std::string(name) == "dead"));
    }
}
