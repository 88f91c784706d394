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

TEST_CASE("against sessions every point stands at its session with bars of two spreads") {
    const Chart chart = drift_chart(picture(), light_palette());
    const Marks& ring = marks_of(chart, "mode 5 (ring)");
    REQUIRE(ring.at.size() == 3);
    CHECK(ring.at[1].x == 1.0);
    CHECK(ring.at[1].y == 390.0);
    CHECK(ring.spread[1] == Approx(3.0));
    CHECK(marks_of(chart, "other modes").spread[0] == 0.0);
    CHECK(chart.across.names == std::vector<std::string>{"1", "2", "3"});
    CHECK(chart.bands.empty()); // the forecast is over mass
}

TEST_CASE("against mass the axis runs from heavy to light, leaves out what was not weighed, and "
          "shows the forecast") {
    DriftPicture drift = picture();
    drift.against = DriftAgainst::mass;
    const Chart chart = drift_chart(drift, light_palette());
    CHECK(marks_of(chart, "mode 5 (ring)").at.size() == 2);
    CHECK(chart.across.low > 130.0);
    CHECK(chart.across.high < 118.0);
    REQUIRE(chart.bands.size() == 1);
    CHECK(chart.bands[0].upper[1].y == 378.0);
    CHECK(chart.bands[0].lower[1].y == 370.0);
}

TEST_CASE("in cents every track starts at nought and an octave is 1200") {
    DriftPicture drift = picture();
    drift.in = DriftIn::cents;
    drift.tracks[1].points[2].frequency_hz = 200;
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
    const Chart chart = drift_chart(picture(), light_palette());
    const auto line = std::find_if(chart.curves.begin(), chart.curves.end(),
                                   [](const Curve& c) { return c.name == "reference"; });
    REQUIRE(line != chart.curves.end());
    CHECK(line->points[0].y == 350.0);
    CHECK(chart.up.low < 350.0);
    CHECK(line->points[0].x == chart.across.low);
    CHECK(line->points[1].x == chart.across.high);
}

TEST_CASE("a named track ends in its frequency") {
    TextCanvas canvas;
    draw(drift_chart(picture(), light_palette()), {0, 0, 900, 500}, canvas, light_palette());
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
