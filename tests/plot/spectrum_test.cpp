#include "plot/spectrum.hpp"
#include "support/catch.hpp"
#include "support/text_canvas.hpp"

using namespace platewright::plot;
using platewright::test::TextCanvas;

namespace {
SpectrumLine line(const std::string& name, double peak_db) {
    return {{{30, -90}, {100, -60}, {350, peak_db}, {900, -75}, {1500, 20}}, name};
}
} // namespace

TEST_CASE("the last tap lies on top of the mean, the mean on top of the ghosts") {
    SpectrumPicture picture;
    picture.ghosts = {line("first", -20), line("second", -20)};
    picture.mean = line("this session", -12);
    picture.last_tap = line("last tap", -10);
    const Chart chart = spectrum_chart(picture, light_palette());
    REQUIRE(chart.curves.size() == 4);
    CHECK(chart.curves[0].name == "first");
    CHECK(chart.curves[2].name == "this session");
    CHECK(chart.curves[3].name == "last tap");
    CHECK(chart.curves[0].pen.colour.opacity < chart.curves[1].pen.colour.opacity);
}

TEST_CASE("the level axis spans what is shown and no more than the range") {
    SpectrumPicture picture;
    picture.last_tap = line("last tap", -10);
    const Chart chart = spectrum_chart(picture, light_palette());
    CHECK(chart.up.high == Approx(-6)); // the peak outside the shown frequencies does not count
    CHECK(chart.up.high - chart.up.low <= k_shown_range_db + 1e-9);
}

TEST_CASE("modes are signposts with their own shape and words") {
    SpectrumPicture picture;
    picture.last_tap = line("last tap", -10);
    picture.modes = {{110, 1, "mode 1"}, {350, 5, "mode 5"}, {222, 0, "222"}};
    TextCanvas canvas;
    draw(spectrum_chart(picture, light_palette()), {0, 0, 900, 400}, canvas, light_palette());
    CHECK(canvas.find("mode 1"));
    CHECK(canvas.find("222"));
    CHECK(canvas.marks.size() == 3);
    CHECK(canvas.marks[0].shape == Shape::disc);
    CHECK(canvas.crowding({0, 0, 900, 400}) == "");
}

TEST_CASE("before the first tap the chart says to tap") {
    CHECK(spectrum_chart({}, light_palette()).empty());
}

TEST_CASE("beside one another the reference is dashed and the plate solid") {
    BesidePicture picture;
    picture.plate = line("plate", -10);
    picture.reference = line("reference", -12);
    picture.plate_modes = {{350, 5, "mode 5"}};
    picture.reference_modes = {{344, 5, "mode 5"}};
    const Chart chart = beside_chart(picture, light_palette());
    CHECK(chart.curves[0].pen.dash == Dash::dashed);
    CHECK(chart.curves[1].pen.dash == Dash::solid);
    CHECK(chart.signposts.size() == 2);
    CHECK(chart.signposts[0].words.empty());
}
