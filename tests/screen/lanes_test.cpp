// Three lanes about one goal line.
#include "base/text.hpp"
#include "headless_window.hpp"
#include "screen/bench/lane.hpp"
#include "support/catch.hpp"

using namespace platewright;
using test::HeadlessWindow;
using test::sample_plate;
using test::sample_snapshot;

TEST_CASE("each mode stands in a lane with its difference large and its doubt beside it") {
    auto plate = sample_plate(4);
    test::compare_with_reference(*plate);
    HeadlessWindow window(sample_snapshot(plate));
    const std::string away = base::signed_fixed(*plate->comparison->modes[2].hz, 1);
    const screen::Seen* difference = window.find(away);
    REQUIRE(difference);
    CHECK(difference->height >= 64.0);
    const screen::Seen* now = window.find(base::fixed(plate->figures[2].now->mode.frequency_hz, 1));
    REQUIRE(now);
    CHECK(now->height >= 34.0);
    const screen::Seen* doubt = window.find("\u00b1 1.6 Hz"); // 95 % of 0.8 Hz
    REQUIRE(doubt);
    CHECK(doubt->height >= 34.0);
    CHECK(window.reads("to the reference"));
    CHECK(window.reads_within("Q 64"));
    CHECK(window.reads("name 87 % sure"));
    CHECK(window.reads("spread 0.89 Hz, 6 taps"));
    CHECK(window.reads("\u22126 %"));
}

TEST_CASE("before the first tap of a session the lanes stand about the last one") {
    auto plate = sample_plate(3);
    auto now = sample_snapshot(plate);
    now.tap.reset();
    ledger::SessionHistory fresh;
    fresh.session.id = 4;
    plate->history.sessions.push_back(fresh);
    plate->session = 4;
    for (bench::ModeView& figure : plate->figures) {
        figure.now.reset();
    }
    const auto lanes = screen::lanes_of(*plate);
    REQUIRE(lanes.size() == 3);
    for (const screen::Lane& lane : lanes) {
        CHECK_FALSE(lane.now_hz);
        CHECK(lane.against == screen::Against::last_session);
        CHECK(lane.centre_hz == lane.last_hz);
    }
    HeadlessWindow window(now);
    CHECK(window.reads("not found yet"));
    CHECK(window.reads_within("last session " + base::fixed(*lanes[2].last_hz, 1)));
}

TEST_CASE("a lane is about the goal, without one about the reference, without that about the last "
          "session, and says which") {
    auto plate = sample_plate(4);
    const auto against = [&] { return screen::lanes_of(*plate)[2].against; };
    CHECK(against() == screen::Against::last_session);
    test::compare_with_reference(*plate);
    CHECK(against() == screen::Against::reference);
    plate->goals = {{5, 349.0, false}};
    CHECK(against() == screen::Against::goal);
    const screen::Lane lane = screen::lanes_of(*plate)[2];
    CHECK(*lane.away_hz == Approx(plate->figures[2].now->mode.frequency_hz - 349.0));
    CHECK(screen::lanes_of(*sample_plate(1))[2].against == screen::Against::nothing);
}

TEST_CASE("an arrow tells what a gram less does only from where the plate was weighed") {
    auto plate = test::full_plate();
    CHECK(screen::lanes_of(*plate)[2].next);
    plate->drift.tracks[2].forecast->mass_g -= 2.0; // weighed since, and not tapped yet
    CHECK_FALSE(screen::lanes_of(*plate)[2].next);
}

TEST_CASE("the lanes' scale shows six per cent, and doubles where a mode lies beyond it") {
    std::vector<screen::Lane> lanes(2);
    lanes[0].now_hz = 105.0, lanes[0].centre_hz = 100.0;
    CHECK(screen::reach_of(lanes) == Approx(0.06));
    lanes[1].now_hz = 80.0, lanes[1].centre_hz = 100.0;
    CHECK(screen::reach_of(lanes) == Approx(0.24));
}

TEST_CASE("a mode that was not found yet says how to hold and strike for it") {
    auto plate = sample_plate(2);
    plate->figures[2].now.reset();
    HeadlessWindow window(sample_snapshot(plate));
    CHECK(window.reads("not found yet"));
    CHECK(window.reads_within("strike the centre"));
}
