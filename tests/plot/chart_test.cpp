#include "plot/canvas.hpp"
#include "plot/chart.hpp"
#include "support/catch.hpp"
#include "support/text_canvas.hpp"

#include <cmath>

using namespace platewright::plot;
using platewright::test::TextCanvas;

namespace {

Chart plain_chart() {
    Chart chart;
    chart.across = {.title = "frequency, Hz", .low = 0, .high = 10};
    chart.up = {.title = "level, dB", .low = 0, .high = 100};
    chart.curves.push_back({{{0, 0}, {10, 100}}, {{10, 20, 30, 255}, 2.0}, "rise", {}});
    return chart;
}
constexpr Box k_area{0, 0, 800, 400};

} // namespace

TEST_CASE("a curve runs between the places its scales give") {
    TextCanvas canvas;
    const Frame frame = draw(plain_chart(), k_area, canvas, light_palette());
    const auto line = std::find_if(canvas.lines.begin(), canvas.lines.end(),
                                   [](const auto& l) { return l.clipped; });
    REQUIRE(line != canvas.lines.end());
    CHECK(line->points.front().x == Approx(frame.inside.left));
    CHECK(line->points.front().y == Approx(frame.inside.bottom));
    CHECK(line->points.back().x == Approx(frame.inside.right));
    CHECK(line->points.back().y == Approx(frame.inside.top));
    CHECK(frame.across.value(frame.inside.right) == Approx(10));
}

TEST_CASE("axis titles and the key are written") {
    TextCanvas canvas;
    draw(plain_chart(), k_area, canvas, light_palette());
    CHECK(canvas.find("frequency, Hz"));
    CHECK(canvas.find("level, dB"));
    CHECK(canvas.find("rise"));
}

TEST_CASE("data are clipped to the frame and everything else is not") {
    TextCanvas canvas;
    Chart chart = plain_chart();
    chart.curves[0].points = {{-5, -100}, {20, 300}};
    draw(chart, k_area, canvas, light_palette());
    CHECK(std::count_if(canvas.lines.begin(), canvas.lines.end(),
                        [](const auto& l) { return l.clipped; }) == 1);
}

TEST_CASE("an empty chart says what to do instead") {
    TextCanvas canvas;
    Chart chart;
    chart.when_empty = "Tap the plate.";
    draw(chart, k_area, canvas, light_palette());
    REQUIRE(canvas.texts.size() == 1);
    CHECK(canvas.texts[0].words == "Tap the plate.");
}

TEST_CASE("signposts that would collide are stacked, and no text leaves the area or overlaps") {
    for (const double width : {320.0, 500.0, 800.0, 1600.0}) {
        for (const bool backwards : {false, true}) {
            TextCanvas canvas;
            Chart chart = plain_chart();
            if (backwards) {
                std::swap(chart.across.low, chart.across.high);
            }
            for (const double x : {0.0, 0.1, 3.0, 3.2, 3.4, 9.9, 10.0}) {
                chart.signposts.push_back({x,
                                           "mode at " + std::to_string(chart.signposts.size()),
                                           {},
                                           Shape::disc,
                                           true,
                                           Dash::dotted});
            }
            const Box area{0, 0, width, 400};
            draw(chart, area, canvas, light_palette());
            CHECK(canvas.crowding(area) == "");
            for (const Signpost& post : chart.signposts) {
                CHECK(canvas.find(post.words));
            }
        }
    }
}

TEST_CASE("signposts with room for all stand in one row on an axis that runs backwards too") {
    TextCanvas canvas;
    Chart chart = plain_chart();
    std::swap(chart.across.low, chart.across.high);
    for (const double x : {1.0, 5.0, 9.0}) {
        chart.signposts.push_back({x, "p" + std::to_string(std::lround(x)), {}, {}, false, {}});
    }
    draw(chart, k_area, canvas, light_palette());
    CHECK(canvas.find("p1")->where.top == Approx(canvas.find("p9")->where.top));
    CHECK(canvas.find("p9")->where.left < canvas.find("p1")->where.left);
}

TEST_CASE("labels at the ends of curves are moved apart and keep their order") {
    TextCanvas canvas;
    Chart chart = plain_chart();
    chart.curves.clear();
    for (int i = 0; i < 5; ++i) {
        chart.curves.push_back(
            {{{0, 50}, {10, 50.0 + 0.1 * i}}, {}, {}, "end " + std::to_string(i)});
    }
    draw(chart, k_area, canvas, light_palette());
    CHECK(canvas.crowding(k_area) == "");
    for (int i = 1; i < 5; ++i) {
        CHECK(canvas.find("end " + std::to_string(i))->where.top <
              canvas.find("end " + std::to_string(i - 1))->where.top);
    }
}

TEST_CASE("a spread is a bar of that height around its mark") {
    TextCanvas canvas;
    Chart chart = plain_chart();
    chart.marks.push_back({{{5, 50}}, {10}, Shape::triangle, 9, {1, 2, 3, 255}, "points"});
    const Frame frame = draw(chart, k_area, canvas, light_palette());
    const auto bar = std::find_if(canvas.lines.begin(), canvas.lines.end(), [](const auto& l) {
        return l.pen.colour == Colour{1, 2, 3, 255} && l.points[0].x == l.points[1].x;
    });
    REQUIRE(bar != canvas.lines.end());
    CHECK(bar->points[0].y == Approx(frame.up.place(60)));
    CHECK(bar->points[1].y == Approx(frame.up.place(40)));
}

TEST_CASE("thinning keeps every peak and stays within four points a column") {
    std::vector<Point> dense;
    for (int i = 0; i < 100000; ++i) {
        dense.push_back({i * 0.005, std::sin(i * 0.37) + (i == 54321 ? 40.0 : 0.0)});
    }
    const auto kept = thin(dense);
    CHECK(kept.size() <= 4 * 501);
    CHECK(std::max_element(kept.begin(), kept.end(), [](Point a, Point b) {
              return a.y < b.y;
          })->y == Approx(40.0 + std::sin(54321 * 0.37)));
    CHECK(kept.front().x == dense.front().x);
    CHECK(kept.back().x == dense.back().x);
    CHECK(std::is_sorted(kept.begin(), kept.end(), [](Point a, Point b) { return a.x < b.x; }));
}

TEST_CASE("a line with fewer points than columns is left as it is") {
    const std::vector<Point> line{{0, 1}, {10, 2}, {20, 0}};
    CHECK(thin(line).size() == 3);
    CHECK(thin({}).empty());
}
