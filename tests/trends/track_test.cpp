#include "support/catch.hpp"
#include "trends/plate_story.hpp"
#include "trends/track/track.hpp"

#include <algorithm>

using namespace platewright;
using namespace platewright::trends;
using namespace platewright::test;

namespace {

KnownPlate back() {
    KnownPlate plate;
    for (const double hz : {113.0, 166.0, 220.0, 231.0, 350.0, 402.0, 455.0, 520.0})
        plate.modes.push_back({hz, hz < 300 ? 0.95 : 0.65, 60.0, {}});
    plate.scatter = 0.0025;
    return plate;
}

/// The track whose first point is nearest to a frequency.
const Track& beginning_near(const std::vector<Track>& tracks, double hz) {
    return *std::ranges::min_element(tracks, {}, [hz](const Track& track) {
        return std::abs(track.points.front().value.frequency_hz - hz);
    });
}

} // namespace

TEST_CASE("every mode of a plate is one track through nine sessions from 130 g to 100 g") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    const std::vector masses{130.4, 126.1, 121.2, 117.0, 113.3, 109.5, 106.2, 103.1, 100.6};
    for (const double mass : masses)
        history.sessions.push_back(plate.session(mass));
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == plate.modes.size());
    for (std::size_t i = 0; i < tracks.size(); ++i) {
        REQUIRE(tracks[i].points.size() == masses.size());
        for (const TrackPoint& point : tracks[i].points) {
            CHECK(point.mode == i); // no two of these modes cross
            CHECK(point.confidence > 0.5);
            CHECK(point.value.frequency_hz ==
                  history.sessions[point.session].modes[point.mode].mode.frequency_hz);
        }
    }
}

TEST_CASE("a mode missed in some sessions goes on as the same track when it is found again") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    history.sessions = {plate.session(130), plate.session(125, {4}), plate.session(120, {4, 1}),
                        plate.session(115), plate.session(110, {0, 7})};
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == plate.modes.size());
    const Track& ring = beginning_near(tracks, 350.0 * std::pow(1.3, 0.65));
    REQUIRE(ring.points.size() == 3);
    CHECK(ring.points[1].session == 3);
}

TEST_CASE("modes that cross are followed through the crossing by their own slopes") {
    KnownPlate plate;
    plate.modes = {{110.0, 0.9}, {220.0, 1.6}, {231.0, 0.5}, {350.0, 0.7}, {440.0, 0.8}};
    plate.scatter = 0.001;
    ledger::PlateHistory history;
    for (double mass = 118; mass >= 88; mass -= 3)
        history.sessions.push_back(plate.session(mass));
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == plate.modes.size());
    for (const KnownMode& known : plate.modes) {
        const auto law = [&](double mass) {
            return known.hz_at_100_g * std::pow(mass / 100.0, known.exponent);
        };
        const Track& track = beginning_near(tracks, law(118));
        CHECK(track.points.back().value.frequency_hz == Approx(law(88)).epsilon(0.006));
    }
}

TEST_CASE("modes that cross at once are told apart by where they answer") {
    const std::vector<modes::SpotLevel> centre{{taps::Spot::centre, 0.0, 0.5, 3},
                                               {taps::Spot::lower_end, -20.0, 0.5, 3}};
    const std::vector<modes::SpotLevel> end{{taps::Spot::centre, -20.0, 0.5, 3},
                                            {taps::Spot::lower_end, 0.0, 0.5, 3}};
    KnownPlate before, after;
    before.modes = {{110, 1}, {165, 1}, {300, 1, 60, centre}, {306, 1, 60, end}, {420, 1}};
    after.modes = {{110, 1}, {165, 1}, {304, 1, 60, centre}, {298, 1, 60, end}, {420, 1}};
    ledger::PlateHistory history;
    history.sessions = {before.session(100), after.session(100)};
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == 5);
    CHECK(beginning_near(tracks, 300).points.back().value.frequency_hz == Approx(304.0));
    CHECK(beginning_near(tracks, 306).points.back().value.frequency_hz == Approx(298.0));
}

TEST_CASE("without a mass, the modes' common movement carries the tracks") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    history.sessions = {plate.session(110), plate.session(106.5), plate.session(103)};
    for (ledger::SessionHistory& session : history.sessions)
        session.session.mass_g.reset();
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == plate.modes.size());
    for (const Track& track : tracks)
        CHECK(track.points.size() == 3);
}

TEST_CASE(
    "f-holes and bar move a top's modes far and bring new ones, and the old are still followed") {
    KnownPlate before;
    before.part = modes::Part::top;
    for (const double hz : {89.6, 158.8, 230.3, 256.6, 354.0, 390.7})
        before.modes.push_back({hz, 0.0});
    KnownPlate after = before;
    const std::vector<double> moved{84.0, 143.0, 205.0, 231.0, 305.0, 352.0};
    for (std::size_t i = 0; i < moved.size(); ++i)
        after.modes[i].hz_at_100_g = moved[i];
    after.modes.push_back({452.0, 0.0});
    ledger::PlateHistory history;
    history.plate.part = modes::Part::top;
    history.sessions = {before.session(63), after.session(65)};
    history.sessions[0].session.stage = modes::Stage::graduated;
    history.sessions[1].session.stage = modes::Stage::bar_fitted;
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == 7);
    for (std::size_t i = 0; i < moved.size(); ++i) {
        const Track& track = beginning_near(tracks, before.modes[i].hz_at_100_g);
        REQUIRE(track.points.size() == 2);
        CHECK(track.points[1].value.frequency_hz == Approx(moved[i]));
    }
    CHECK(beginning_near(tracks, 452.0).points.size() == 1);
}

TEST_CASE("a name follows its track, backwards and forwards") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    history.sessions = {plate.session(120), plate.session(115), plate.session(110)};
    const double ring_115 = 350.0 * std::pow(1.15, 0.65);
    name(history.sessions[1], ring_115, 5);
    const std::vector<Track> tracks = follow(history);
    REQUIRE(find_track(tracks, 5) != nullptr);
    CHECK(find_track(tracks, 5) == &tracks.front());
    CHECK(find_track(tracks, 5)->points.size() == 3);
    CHECK_FALSE(find_track(tracks, 5)->name->by_maker);
    CHECK(find_track(tracks, 2) == nullptr);
}

TEST_CASE("the maker's correction names the whole track and takes the number from any other") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    history.sessions = {plate.session(106), plate.session(103), plate.session(100)};
    for (ledger::SessionHistory& session : history.sessions)
        name(session, 402.0 * std::pow(*session.session.mass_g / 100.0, 0.65), 5);
    name(history.sessions[1], 350.0 * std::pow(1.03, 0.65), 5, true);
    const std::vector<Track> tracks = follow(history);
    const Track* ring = find_track(tracks, 5);
    REQUIRE(ring != nullptr);
    CHECK(ring->name->by_maker);
    CHECK(ring->points.back().value.frequency_hz == Approx(350.0).epsilon(0.01));
    CHECK(std::ranges::count_if(tracks, [](const Track& t) { return t.name.has_value(); }) == 1);
}

TEST_CASE("found names that disagree along a track are outvoted, and the doubt shows") {
    KnownPlate plate = back();
    ledger::PlateHistory history;
    history.sessions = {plate.session(104), plate.session(103), plate.session(102),
                        plate.session(101)};
    for (ledger::SessionHistory& session : history.sessions)
        name(session, 350.0 * std::pow(*session.session.mass_g / 100.0, 0.65), 5);
    name(history.sessions[3], 350.0, 6, false, 0.8);
    const std::vector<Track> tracks = follow(history);
    REQUIRE(find_track(tracks, 5) != nullptr);
    CHECK(find_track(tracks, 5)->points.size() == 4);
    CHECK(find_track(tracks, 5)->name->confidence < 0.8);
    CHECK(find_track(tracks, 6) == nullptr);
}

TEST_CASE("where the maker says which of two modes goes on, the pairing yields") {
    KnownPlate plate;
    plate.modes = {{110, 1}, {165, 1}, {300, 1}, {306, 1}, {420, 1}};
    ledger::PlateHistory history;
    history.sessions = {plate.session(100), plate.session(100)};
    name(history.sessions[0], 300.0, 5, true);
    name(history.sessions[1], 306.0, 5, true);
    const std::vector<Track> tracks = follow(history);
    REQUIRE(tracks.size() == 5);
    const Track* ring = find_track(tracks, 5);
    REQUIRE(ring != nullptr);
    CHECK(ring->points[0].value.frequency_hz == Approx(300.0));
    CHECK(ring->points[1].value.frequency_hz == Approx(306.0));
    CHECK(beginning_near(tracks, 306.0).points[1].value.frequency_hz == Approx(300.0));
}

TEST_CASE("no sessions, and sessions without modes, give no tracks") {
    ledger::PlateHistory history;
    CHECK(follow(history).empty());
    history.sessions.resize(3);
    CHECK(follow(history).empty());
}
