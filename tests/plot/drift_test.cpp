#include "plot/drift.hpp"
#include "support/catch.hpp"
#include "support/text_canvas.hpp"

using namespace platewright::plot;
using platewright::test::TextCanvas;

namespace {

/// An invented back: three sessions, mode 5 and one mode without a name.
DriftPicture picture() {
    DriftPicture out;
    out.sessions = {
        {"1", "rough", 130.0, 20000}, {"2", "rough", {}, 20003}, {"3", "graduating", 120.0, 20010}};
    out.tracks.push_back({.name = 0,
                          .words = {},
                          .points = {{0, 250, 1}, {2, 240, 1}},
                          .forecast = {},
                          .reference_hz = {}});
    out.tracks.push_back({.name = 5,
                          .words = "mode 5 (ring)",
                          .points = {{0, 400, 1}, {1, 390, 1.5}, {2, 380, 2}},
                          .forecast = {{120, 380, 378, 382}, {118, 374, 370, 378}},
                          .reference_hz = 350.0});
    return out;
}

const Marks& marks_of(const Chart& chart, std::string_view name) {
    return *std::find_if(chart.marks.begin(), chart.marks.end(),
                         [&](const Marks& m) { return m.name == name; });
}

} // namespace

TEST_CASE("each mode with a name has a strip with bars of its interval, and the others none") {
    const Chart chart = drift_chart(picture(), light_palette());
    REQUIRE(chart.strips.size() == 1); // no session told its air
    const Marks& ring = marks_of(chart.strips[0], "mode 5 (ring)");
    REQUIRE(ring.at.size() == 3);
    CHECK(ring.at[1].x == 1.0);
    CHECK(ring.at[1].y == 390.0);
    CHECK(ring.spread[1] == Approx(1.5));
    CHECK(ring.size == 7.0);
    CHECK(chart.across.names == std::vector<std::string>{"1", "2", "3"});
    CHECK(chart.strips[0].bands.empty()); // the forecast is over mass
    CHECK(drift_strip(picture(), 5) == 0U);
    CHECK_FALSE(drift_strip(picture(), 2));
}

TEST_CASE("all modes in one picture show those without a name as well") {
    DriftPicture drift = picture();
    drift.all_modes = true;
    const Chart chart = drift_chart(drift, light_palette());
    CHECK(chart.strips.empty());
    CHECK(marks_of(chart, "other modes").spread[0] == 0.0);
    CHECK(marks_of(chart, "mode 5 (ring)").spread[1] == Approx(1.5));
}

TEST_CASE("against mass the axis runs from heavy to light, leaves out what was not weighed, and "
          "the forecast is a fan from the newest mark") {
    DriftPicture drift = picture();
    drift.against = DriftAgainst::mass;
    drift.tracks[1].points[2].frequency_hz = 381; // off the line that the forecast is of
    const Chart chart = drift_chart(drift, light_palette());
    const Chart& strip = chart.strips[0];
    CHECK(marks_of(strip, "mode 5 (ring)").at.size() == 2);
    CHECK(chart.across.low > 130.0);
    CHECK(chart.across.high < 118.0);
    REQUIRE(strip.bands.size() == 1);
    CHECK(strip.bands[0].upper[0].y == 383.0);
    CHECK(strip.bands[0].lower[0].y == 379.0);
    CHECK(strip.bands[0].upper[1].y == 378.0);
    CHECK(strip.bands[0].lower[1].y == 370.0);
}

TEST_CASE("in every strip the goal stands at the same height, and the interval of a hanging is at "
          "least 8 px of 100 high") {
    DriftPicture drift = picture();
    drift.tracks.push_back({.name = 2,
                            .words = "mode 2 (X)",
                            .points = {{0, 200, 1}, {1, 176, 1}, {2, 175, 1}},
                            .goal_hz = 170.0});
    drift.tracks[1].goal_hz = 352.0;
    const Chart chart = drift_chart(drift, light_palette());
    REQUIRE(chart.strips.size() == 2);
    std::vector<double> heights;
    for (const auto& [strip, goal] : {std::pair{0, 352.0}, {1, 170.0}}) {
        const Axis& up = chart.strips[static_cast<std::size_t>(strip)].up;
        heights.push_back((goal - up.low) / (up.high - up.low));
        const double hang_hz = 2.0 * 1.96 * 0.0035 * goal; // half a percent between two hangings
        CHECK(100.0 * hang_hz / (up.high - up.low) >= 8.0);
    }
    CHECK(heights[0] == Approx(heights[1]));
    // What lies above is counted.
    CHECK(chart.strips[1].end.name == "mode 2 (X), 1 session above");
}

TEST_CASE(
    "sessions that lie above every strip leave no empty half: the axis begins where something "
    "is seen, at the stage of then") {
    DriftPicture drift;
    for (int i = 0; i < 12; ++i) { // from 500 Hz down to 346, of which a strip shows 16 %
        drift.sessions.push_back(
            {std::to_string(i + 1), i < 3 ? "rough" : "graduating", 140.0 - 2.0 * i, 20000.0 + i});
    }
    drift.tracks.push_back({.name = 5, .words = "mode 5 (ring)"});
    for (std::size_t i = 0; i < 12; ++i) {
        drift.tracks[0].points.push_back({i, 500.0 - 14.0 * static_cast<double>(i), 1.0});
    }
    drift.against = DriftAgainst::session; // leads to every session
    CHECK(drift_chart(drift, light_palette()).across.low < 0.0);
    {
        drift.against = DriftAgainst::mass;
        const Chart chart = drift_chart(drift, light_palette());
        const double top = chart.strips[0].up.high;
        const auto seen = std::ranges::find_if(
            drift.tracks[0].points, [&](const DriftPoint& p) { return p.frequency_hz <= top; });
        REQUIRE(seen != drift.tracks[0].points.end());
        REQUIRE(seen->session > 3); // a good part is above
        const double first = *drift_across(drift, seen->session);
        const double step = std::abs(*drift_across(drift, seen->session - 1) - first);
        CHECK(std::abs(chart.across.low - first) <= 0.5 * step + 1e-9);
        CHECK(chart.strips[0].end.name ==
              "mode 5 (ring), " + std::to_string(seen->session) + " sessions above");
        REQUIRE(chart.signposts.size() == 1); // what went on there
        CHECK(chart.signposts[0].words == "graduating");
        CHECK(chart.signposts[0].x == chart.across.low);
    }
}

TEST_CASE("below the modes stands the air, with the sessions that stand off") {
    DriftPicture drift = picture();
    for (auto& session : drift.sessions) {
        session.humidity_pct = 48.0;
    }
    drift.sessions[1].strays = true;
    const Chart chart = drift_chart(drift, light_palette());
    REQUIRE(chart.strips.size() == 2);
    CHECK(marks_of(chart.strips[1], "stands off").at[0].x == 1.0);
    CHECK(chart.strips[1].end.lines.back() == "1 session stands off");
}

TEST_CASE("strips stand under one another with their frames in line, and no text on another") {
    DriftPicture drift = picture();
    drift.tracks.push_back({.name = 2,
                            .words = "mode 2 (X)",
                            .points = {{0, 178, 1}, {1, 176, 1}, {2, 175, 1}},
                            .goal_hz = 170.0,
                            .facts = {"175.0 \u00b1 1.2 Hz", "goal 170.0: +5.0"}});
    for (auto& session : drift.sessions) {
        session.humidity_pct = 48.0;
    }
    TextCanvas canvas;
    const Box area{0, 0, 900, 500};
    const Frame frame = draw(drift_chart(drift, light_palette()), area, canvas, light_palette());
    REQUIRE(frame.strips.size() == 3);
    for (std::size_t i = 1; i < frame.strips.size(); ++i) {
        CHECK(frame.strips[i].inside.left == frame.strips[0].inside.left);
        CHECK(frame.strips[i].inside.right == frame.strips[0].inside.right);
        CHECK(frame.strips[i].inside.top >= frame.strips[i - 1].inside.bottom);
    }
    CHECK(frame.inside.bottom == frame.strips.back().inside.bottom);
    CHECK(canvas.find("goal 170.0: +5.0"));
    CHECK(canvas.crowding(area) == "");
}

TEST_CASE("in cents every track starts at nought and an octave is 1200") {
    DriftPicture drift = picture();
    drift.in = DriftIn::cents;
    drift.tracks[1].points[2].frequency_hz = 200;
    drift.all_modes = true;
    const Chart chart = drift_chart(drift, light_palette());
    const Marks& ring = marks_of(chart, "mode 5 (ring)");
    CHECK(ring.at[0].y == Approx(0.0).margin(1e-9));
    CHECK(ring.at[2].y == Approx(-1200.0));
}

TEST_CASE("a change of stage is a signpost, once") {
    const Chart chart = drift_chart(picture(), light_palette());
    REQUIRE(chart.signposts.size() == 2);
    CHECK(chart.signposts[0].words == "rough");
    CHECK(chart.signposts[1].words == "graduating");
    CHECK(chart.signposts[1].x == 2.0);
}

TEST_CASE("the reference is within the picture and runs across it") {
    for (const bool all : {false, true}) {
        DriftPicture drift = picture();
        drift.all_modes = all;
        const Chart whole = drift_chart(drift, light_palette());
        const Chart& chart = all ? whole : whole.strips[0];
        const auto line = std::find_if(chart.curves.begin(), chart.curves.end(),
                                       [](const Curve& c) { return c.name == "reference"; });
        REQUIRE(line != chart.curves.end());
        CHECK(line->points[0].y == 350.0);
        CHECK(chart.up.low < 350.0);
        CHECK(line->points[0].x == whole.across.low);
        CHECK(line->points[1].x == whole.across.high);
    }
}

TEST_CASE("a named track ends in its frequency") {
    TextCanvas canvas;
    DriftPicture drift = picture();
    drift.all_modes = true;
    draw(drift_chart(drift, light_palette()), {0, 0, 900, 500}, canvas, light_palette());
    CHECK(canvas.find("380.0"));
    CHECK(canvas.crowding({0, 0, 900, 500}) == "");
}

TEST_CASE("without weighed sessions a chart against mass says what to do") {
    DriftPicture drift = picture();
    drift.against = DriftAgainst::mass;
    for (auto& session : drift.sessions) {
        session.mass_g.reset();
    }
    const Chart chart = drift_chart(drift, light_palette());
    CHECK(chart.empty());
    CHECK(chart.when_empty.find("weigh") != std::string::npos);
}

TEST_CASE(
    "without a goal each strip lies about its own sessions, and shows all that it has room for") {
    DriftPicture drift; // a body whose air leapt up by 14 % while its wood fell by 3 %
    for (int i = 0; i < 3; ++i) {
        drift.sessions.push_back({.label = std::to_string(i + 1), .day = 20000.0 + i});
    }
    drift.tracks.push_back(
        {.name = 101, .words = "A0", .points = {{0, 242, 2}, {1, 240, 2}, {2, 275, 2}}});
    drift.tracks.push_back(
        {.name = 103, .words = "B1-", .points = {{0, 463, 3}, {1, 455, 3}, {2, 449, 3}}});
    const Chart chart = drift_chart(drift, light_palette());
    REQUIRE(chart.strips.size() == 2);
    for (std::size_t i = 0; i < 2; ++i) {
        const Axis& up = chart.strips[i].up;
        for (const DriftPoint& point : drift.tracks[i].points) {
            CHECK(point.frequency_hz + point.doubt_hz < up.high);
            CHECK(point.frequency_hz - point.doubt_hz > up.low);
        }
        CHECK(chart.strips[i].end.name == drift.tracks[i].words); // none is above
    }
    const auto share = [&](std::size_t i, double centre) {
        return (chart.strips[i].up.high - chart.strips[i].up.low) / centre;
    };
    CHECK(share(0, 275) == Approx(share(1, 449))); // a percent is as high
}
