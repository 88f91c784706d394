#include "plot/plate/plate_picture.hpp"
#include "support/catch.hpp"
#include "support/text_canvas.hpp"

#include <cmath>

using namespace platewright::plot;
using namespace platewright::test;

namespace {

/// A square of side 2n around (0, n), in right triangles, with values of a function.
template <class F>
TriangleField square(int n, const F& value) {
    TriangleField field;
    for (int row = 0; row <= 2 * n; ++row)
        for (int column = -n; column <= n; ++column) {
            field.at.push_back({static_cast<double>(column), static_cast<double>(row)});
            field.values.push_back(value(column, row));
        }
    const int w = 2 * n + 1;
    for (int row = 0; row < 2 * n; ++row)
        for (int column = 0; column < 2 * n; ++column) {
            const int a = row * w + column;
            field.triangles.push_back({a, a + 1, a + w + 1});
            field.triangles.push_back({a, a + w + 1, a + w});
        }
    return field;
}

double area_of(const std::vector<std::vector<Point>>& pieces) {
    double sum = 0.0;
    for (const auto& piece : pieces)
        for (std::size_t i = 0; i < piece.size(); ++i) {
            const Point a = piece[i], b = piece[(i + 1) % piece.size()];
            sum += 0.5 * (a.x * b.y - b.x * a.y);
        }
    return sum;
}

PlatePicture shaded_picture(Shading shading) {
    PlatePicture p;
    p.title = "Wren back (invented)";
    p.field = square(20, [&](int x, int y) {
        const double hill = std::exp(-(x * x + (y - 20.0) * (y - 20.0)) / 180.0);
        return shading == Shading::rising ? 2.5 + 2.0 * hill : 0.3 - hill;
    });
    p.rims = {{{-20, 0}, {20, 0}, {20, 40}, {-20, 40}}};
    p.shading = shading;
    p.quantity = "thickness, mm";
    p.marks = {{{0, 20}, "centre", Shape::disc, false}, {{15, 5}, "", Shape::ring, false}};
    return p;
}

} // namespace

TEST_CASE("bands between levels cover the field once, and are as large as they should be") {
    const auto field = square(10, [](int x, int) { return static_cast<double>(x); });
    CHECK(area_of(band(field, -3.5, 4.25)) == Approx(7.75 * 20.0)); // a strip of the square
    double sum = 0.0;
    for (int k = -12; k < 12; ++k)
        sum += area_of(band(field, k, k + 1));
    CHECK(sum == Approx(400.0));
}

TEST_CASE(
    "a contour of a cone is a closed ring at its radius, and one of a slope ends at the edge") {
    const auto cone = square(30, [](int x, int y) { return std::hypot(x, y - 30.0); });
    const auto rings = contour(cone, 12.3);
    REQUIRE(rings.size() == 1);
    CHECK(rings[0].front().x == rings[0].back().x);
    CHECK(rings[0].front().y == rings[0].back().y);
    for (const Point p : rings[0]) // straight between nodes: the sagitta of a chord of sqrt(2)
        CHECK(std::hypot(p.x, p.y - 30.0) == Approx(12.3).margin(2.0 / (8.0 * 12.3) + 0.01));
    const auto slope = square(10, [](int x, int) { return static_cast<double>(x); });
    const auto lines = contour(slope, 0.5);
    REQUIRE(lines.size() == 1);
    CHECK(std::abs(lines[0].front().y - lines[0].back().y) == Approx(20.0));
    CHECK(contour(slope, 99.0).empty());
}

TEST_CASE("levels are round, between the ends, and not too many") {
    CHECK(round_levels(2.07, 4.61, 6) == std::vector<double>{2.5, 3.0, 3.5, 4.0, 4.5});
    CHECK(round_levels(1.0, 1.0, 5).empty());
    for (const double high : {0.0031, 0.7, 3.0, 88.0})
        for (const int most : {2, 5, 8, 12}) {
            const auto levels = round_levels(-0.4 * high, high, most);
            CHECK(levels.size() >= 1);
            CHECK(static_cast<int>(levels.size()) <= most + 1);
            CHECK((levels.front() > -0.4 * high && levels.back() < high));
        }
}

TEST_CASE("a plate is drawn upright, undistorted, and pointing at it gives the place back") {
    TextCanvas canvas;
    const Box area{10, 10, 810, 610};
    const auto frame = draw(shaded_picture(Shading::rising), area, canvas, light_palette());
    const Point low = frame.place({0, 0}), high = frame.place({0, 40}),
                right = frame.place({20, 0});
    CHECK(high.y < low.y); // the scroll end is up
    CHECK(right.x - low.x == Approx(0.5 * (low.y - high.y)));
    const Point back = frame.mm(frame.place({7.5, 31.25}));
    CHECK(back.x == Approx(7.5));
    CHECK(back.y == Approx(31.25));
    CHECK(canvas.areas.size() == levels_of(shaded_picture(Shading::rising)).size() + 1);
}

TEST_CASE("no words of a plate's picture overlap or leave its area") {
    for (const auto shading : {Shading::rising, Shading::about_zero})
        for (const Box area : {Box{0, 0, 1200, 760}, Box{0, 0, 420, 640}, Box{30, 20, 700, 420}}) {
            TextCanvas canvas;
            draw(shaded_picture(shading), area, canvas, light_palette());
            CHECK(canvas.crowding(area) == "");
            CHECK(canvas.find("centre") != nullptr);
            CHECK(canvas.find("thickness, mm") != nullptr);
        }
}

TEST_CASE(
    "values tell themselves without colour: lines below nothing are dashed, nothing is bold") {
    TextCanvas canvas;
    draw(shaded_picture(Shading::about_zero), {0, 0, 800, 600}, canvas, light_palette());
    bool dashed = false, bold = false;
    for (const auto& line : canvas.lines) {
        dashed |= line.pen.dash == Dash::dashed;
        bold |= line.pen.dash == Dash::solid && line.pen.width > 2.0;
    }
    CHECK(dashed);
    CHECK(bold);
    CHECK(canvas.find("0.0") != nullptr);
}

TEST_CASE("a level's value stands where no other line, mark or edge goes through it") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.field = square(40, [](int x, int y) { // two narrow hills: lines lie close
        const double left = std::exp(-(std::pow(x + 18, 2) + std::pow(y - 30, 2)) / 90.0);
        return 0.6 * (left + std::exp(-(std::pow(x - 18, 2) + std::pow(y - 50, 2)) / 60.0));
    });
    p.rims = {{{-40, 0}, {40, 0}, {40, 80}, {-40, 80}}};
    p.lines = {{{0, 0}, {0, 80}}};
    p.marks = {{{-18, 30}, "0.60", Shape::triangle, false},
               {{18, 50}, "0.60", Shape::triangle, false}};
    TextCanvas canvas;
    draw(p, {0, 0, 760, 700}, canvas, light_palette());
    CHECK(canvas.find("0.60") != nullptr);
    std::size_t values = 0;
    for (const auto& text : canvas.texts) {
        const double legend = 600.0; // right of here
        if (text.where.left > legend || text.words.size() != 3)
            continue;
        ++values;
        std::size_t through = 0; // its own line alone
        for (const auto& line : canvas.lines)
            through += std::any_of(line.points.begin(), line.points.end(),
                                   [&](Point at) { return text.where.holds(at); })
                           ? 1U
                           : 0U;
        INFO(text.words);
        CHECK(through <= 1);
        for (const auto& mark : canvas.marks)
            CHECK_FALSE(text.where.holds(mark.at));
    }
    CHECK(values >= 2);
}

TEST_CASE("seams over a field are seen in the dark too, where the field is as light as by day") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.lines = {{{0, 0}, {0, 40}}};
    const auto seam_of = [&](const PlatePicture& picture) {
        TextCanvas canvas;
        draw(picture, {0, 0, 800, 600}, canvas, dark_palette());
        for (const auto& line : canvas.lines)
            if (line.pen.dash == Dash::dashed)
                return line.pen.colour;
        return Colour{};
    };
    CHECK(seam_of(p) == Colour{0, 0, 0, 255});
    p.field = {};
    CHECK(seam_of(p) == dark_palette().ink);
}

TEST_CASE("a reading's figure stands on its place, and where two would overlap a speck stands for "
          "one, on no figure") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.marks = {{.at = {-10, 8}, .words = "2.51", .on_it = true},
               {.at = {10, 8}, .words = "2.53", .on_it = true},
               {.at = {10.2, 8}, .words = "2.54", .on_it = true}};
    TextCanvas canvas;
    const PlateFrame frame = draw(p, {0, 0, 800, 600}, canvas, light_palette());
    REQUIRE(canvas.find("2.51"));
    CHECK(canvas.find("2.51")->where.holds(frame.place({-10, 8})));
    CHECK(canvas.find("2.53"));
    CHECK_FALSE(canvas.find("2.54"));
    CHECK(canvas.marks.empty()); // its place is below 2.53
    // At 150 % black discs with white rings, larger than the gaps between figures, covered the map.
    const double wide = canvas.find("2.53")->where.width();
    p.marks.back().at.x = 10 + 0.9 * wide / frame.per_mm;
    TextCanvas beside;
    draw(p, {0, 0, 800, 600}, beside, light_palette());
    CHECK_FALSE(beside.find("2.54"));
    CHECK(beside.marks.size() == 1); // without a ring
    for (const TextCanvas* one : {&canvas, &beside})
        CHECK(one->crowding({0, 0, 800, 600}) == "");
}

TEST_CASE(
    "the words of a mark stand where they hide no reading's figure, if there is such a place") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.marks = {{{-20, 20}, "read here next", Shape::ring, true}};
    for (int x = -15; x <= 15; x += 5) {
        p.marks.push_back({.at = {static_cast<double>(x), 20}, .words = "2.51", .on_it = true});
    }
    TextCanvas canvas;
    const PlateFrame frame = draw(p, {0, 0, 1200, 600}, canvas, light_palette());
    REQUIRE(canvas.find("read here next"));
    CHECK(canvas.find("read here next")->where.right < frame.place({-20, 20}).x);
    CHECK(std::ranges::count(canvas.texts, "2.51", &TextCanvas::Words::words) == 7);
}

TEST_CASE("a ring of a level smaller than a letter is not drawn") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.field = square(40, [](int x, int y) { // a spike of one node over an even slope
        return 0.02 * y + (x == 10 && y == 20 ? 0.4 : 0.0);
    });
    p.rims = {{{-40, 0}, {40, 0}, {40, 80}, {-40, 80}}};
    TextCanvas canvas;
    draw(p, {0, 0, 420, 400}, canvas, light_palette());
    for (const auto& line : canvas.lines) {
        double wide = 0.0;
        for (const Point a : line.points)
            for (const Point b : line.points)
                wide = std::max(wide, std::hypot(a.x - b.x, a.y - b.y));
        CHECK(wide > 12.0);
    }
}

TEST_CASE("a plate without a field says so across it") {
    PlatePicture p = shaded_picture(Shading::rising);
    p.field = {};
    p.when_empty = "no readings yet";
    TextCanvas canvas;
    draw(p, {0, 0, 800, 600}, canvas, light_palette());
    CHECK(canvas.find("no readings yet") != nullptr);
    CHECK(canvas.areas.empty());
}
