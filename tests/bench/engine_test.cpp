#include "audio/recording.hpp"
#include "bench/engine.hpp"
#include "bench/listening.hpp"

#include <chrono>
#include <thread>

#include <sndfile.h>

#include "ledger/store.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using namespace std::chrono_literals;
using bench::Engine;
using bench::Snapshot;
using test::TemporaryFolder;

namespace {

/// Waits until the engine shows what is asked for; gives the newest snapshot either way.
template <class Condition>
std::shared_ptr<const Snapshot> await(const Engine& engine, const Condition& met) {
    const auto until = std::chrono::steady_clock::now() + 30s;
    auto snapshot = engine.snapshot();
    while (!met(*snapshot) && std::chrono::steady_clock::now() < until) {
        std::this_thread::sleep_for(5ms);
        snapshot = engine.snapshot();
    }
    CHECK(met(*snapshot));
    return snapshot;
}

/// A recording of two strikes on a violin back, at 0.6 and 1.9 s.
std::filesystem::path two_taps(const std::filesystem::path& folder) {
    std::vector<double> sound(static_cast<std::size_t>(3.2 * 48000));
    synth::Normal normal(7);
    const std::vector<synth::Ring> plate{{115, 50, 0.05}, {170, 58, 0.1}, {355, 62, 0.2}};
    for (const double at_s : {0.6, 1.9})
        synth::add_strike(sound, 48000, static_cast<std::size_t>(at_s * 48000), plate);
    synth::add_noise(sound, 1e-4, normal);
    const auto path = folder / "taps.wav";
    SF_INFO info{};
    info.samplerate = 48000;
    info.channels = 1;
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    SNDFILE* file = sf_open(path.c_str(), SFM_WRITE, &info);
    sf_writef_double(file, sound.data(), static_cast<sf_count_t>(sound.size()));
    sf_close(file);
    return path;
}

ledger::Id new_plate(Engine& engine) {
    engine.send(bench::command::SaveInstrument{{.label = "Wren"}});
    auto snapshot = await(engine, [](const Snapshot& s) { return !s.instruments->empty(); });
    engine.send(bench::command::SavePlate{{.instrument = snapshot->instruments->front().instrument.id, .label = "Wren back"}});
    snapshot = await(engine, [](const Snapshot& s) { return s.plate != nullptr; });
    return snapshot->plate->history.plate.id;
}

} // namespace

TEST_CASE("a first reading has figures a quarter of a second after the strike, and the final ones lie near them") {
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
        const auto& strongest = first[i].partials.back(), &settled = final[i].partials.back();
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
        Engine engine({.ledger_folder = ledger, .replay = two_taps(folder.path()), .listen_at_once = false});
        plate = new_plate(engine);
        engine.send(bench::command::BeginSession{{.mass_g = 112.5}});
        engine.send(bench::command::StrikeAt{taps::Spot::centre});
        engine.send(bench::command::Listen{true});
        bool rang = false;
        const auto shown = await(engine, [&](const Snapshot& s) {
            rang = rang || (s.tap && s.tap->ringing);
            if (s.tap && !s.tap->ringing)
                CHECK(s.tap->record.id != 0);
            return s.plate && s.plate->history.sessions.size() == 1 && s.plate->history.sessions[0].taps.size() == 2 &&
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
    Engine engine({.ledger_folder = folder.path() / "ledger", .replay = folder.path() / "missing.wav"});
    const auto snapshot = await(engine, [](const Snapshot& s) { return !s.input.trouble.empty(); });
    CHECK(snapshot->input.state == bench::InputState::missing);
    CHECK_THAT(snapshot->input.trouble, ContainsSubstring("is not there"));
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
        return s.plate && !s.plate->history.sessions.empty() ? s.plate->history.sessions[0].taps.size() : 0;
    };
    auto shown = await(engine, [&](const Snapshot& s) { return count(s) == 2; });
    // One good tap at each: from the centre to an end, and on to a bout's edge.
    CHECK(shown->plate->history.sessions[0].taps[0].spot == taps::Spot::centre);
    CHECK(shown->plate->history.sessions[0].taps[1].spot == taps::Spot::upper_end);
    CHECK(shown->striking_at == taps::Spot::lower_bout_right);
    const ledger::Id second = shown->plate->history.sessions[0].taps[1].id;
    engine.send(bench::command::UndoTap{});
    shown = await(engine, [&](const Snapshot& s) { return count(s) == 1 && s.taps_to_put_back == 1; });
    engine.send(bench::command::RedoTap{});
    shown = await(engine, [&](const Snapshot& s) { return count(s) == 2 && s.taps_to_put_back == 0; });
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
