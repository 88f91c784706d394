// Strikes given on call: heard, judged and kept as a microphone's are.
#include "awaiting.hpp"
#include "bench/engine.hpp"
#include "morning.hpp"
#include "support/catch.hpp"
#include "support/temporary_folder.hpp"

using namespace platewright;
using bench::Snapshot;
using taps::Spot;
namespace command = bench::command;

namespace {

bench::RecordedStrikes two_recorded(const std::filesystem::path& folder) {
    return {.recording = test::two_taps(folder),
            .strikes = {{0.6, Spot::centre}, {1.9, Spot::lower_end}},
            .plate = "Wren back",
            .mass_g = 101.5};
}

std::size_t taps_in(const Snapshot& now) {
    return now.plate && !now.plate->history.sessions.empty()
               ? now.plate->history.sessions.back().taps.size()
               : 0;
}

template <class Met>
bool shows(const bench::Engine& engine, const Met& met) {
    return met(*test::shown_in_time(engine, met));
}

} // namespace

TEST_CASE("the next recorded strike is one at the spot that is struck, or for the same mode") {
    const bench::RecordedStrikes all{.strikes = {{1, Spot::centre},
                                                 {2, Spot::centre},
                                                 {3, Spot::lower_end},
                                                 {4, Spot::lower_bout_right}}};
    CHECK(bench::next_strike(all, -1, Spot::centre) == 0);
    CHECK(bench::next_strike(all, 0, Spot::centre) == 1);
    CHECK(bench::next_strike(all, 1, Spot::centre) == 0);
    CHECK(bench::next_strike(all, 1, Spot::upper_end) == 2); // for mode 2 as well
    CHECK(bench::next_strike(all, 2, Spot::upper_bout_left) == 3);
    CHECK(bench::next_strike(all, 3, Spot::waist_left) == -1); // for no mode
    CHECK(bench::next_strike(all, 3, Spot::unknown) == 0);
    CHECK(bench::next_strike({}, -1, Spot::unknown) == -1);
}

TEST_CASE(
    "a recorded strike that is called is kept at the spot it was struck at, and nothing else is") {
    test::TemporaryFolder folder;
    const auto ledger = folder.path() / "ledger";
    test::plate_of_days_ago(ledger, 3, test::two_taps(folder.path()));
    bench::Engine engine({.ledger_folder = ledger,
                          .recorded = two_recorded(folder.path()),
                          .listen_at_once = false});
    CHECK(engine.snapshot()->recorded == bench::RecordedView{"Wren back", 101.5, false});
    engine.send(command::HearRecorded{true});
    engine.send(command::BeginSession{});
    engine.send(command::StrikeAt{Spot::centre});
    REQUIRE(shows(engine, [](const Snapshot& s) {
        return s.recorded->on && s.input.state == bench::InputState::running && s.plate &&
               s.striking_at == Spot::centre;
    }));
    engine.send(command::StrikeRecorded{});
    REQUIRE(shows(engine, [](const Snapshot& s) { return taps_in(s) == 1; }));
    engine.send(command::StrikeAt{Spot::upper_end});
    CHECK(test::comes_true([&] { // one that is called while another rings away is not heard
        engine.send(command::StrikeRecorded{});
        std::this_thread::sleep_for(std::chrono::milliseconds(200));
        return taps_in(*engine.snapshot()) == 2;
    }));
    const auto shown = engine.snapshot();
    const auto& taps = shown->plate->history.sessions.back().taps;
    CHECK(taps[0].spot == Spot::centre);
    CHECK(taps[1].spot == Spot::lower_end);
    CHECK(shown->striking_at == Spot::lower_end);
    for (const auto& tap : taps)
        CHECK(tap.verdict == taps::Verdict::accepted);
    engine.send(command::StrikeAt{Spot::waist_left});
    engine.send(command::StrikeRecorded{});
    CHECK(shows(engine, [](const Snapshot& s) {
        return !s.notices.empty() && s.notices.back().text.starts_with("Nobody struck there");
    }));
    engine.send(command::HearRecorded{false});
    CHECK(shows(engine, [](const Snapshot& s) { return !s.recorded->on; }));
}
