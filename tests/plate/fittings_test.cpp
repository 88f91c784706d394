#include "plate/plate_model.hpp"
#include "plate/shape/height_text.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;

TEST_CASE("a violin's usual f-hole has the measures that it is given") {
    FHole hole = usual_f_hole(test::violin().size);
    hole.slot_mm = 4.5; // wider ones are narrowed to what its curls leave room for
    const auto loops = f_hole_loops(hole);
    REQUIRE(loops.size() == 2);
    const Loop& right = loops[0];
    for (const Loop& loop : loops)
        CHECK(signed_area_mm2(loop) > 0.0);
    // 75 mm long, upper eyes 42 mm apart (fittings.hpp, common practice)
    const auto [foot, top] = std::ranges::minmax(right, {}, &Point::y_mm);
    CHECK(top.y_mm - foot.y_mm == Approx(75.0).margin(3.0));
    CHECK(2.0 * (hole.upper.x_mm - distance_mm(right, hole.upper)) == Approx(42.0).margin(1.0));
    // on the side of its curl an eye is flattened a little
    for (const auto& [eye, mm] :
         {std::pair{hole.upper, hole.upper_eye_mm}, std::pair{hole.lower, hole.lower_eye_mm}}) {
        CHECK(2.0 * distance_mm(right, eye) < mm);
        CHECK(2.0 * distance_mm(right, eye) > 0.8 * mm);
    }
    // half way down the stem the widest circle that it holds is the slot
    const double half_way_mm = 0.5 * (hole.upper.y_mm + hole.lower.y_mm);
    double widest_mm = 0.0;
    for (double x = hole.upper.x_mm; x < hole.lower.x_mm; x += 0.05)
        if (const Point p{x, half_way_mm}; contains(right, p))
            widest_mm = std::max(widest_mm, 2.0 * distance_mm(right, p));
    CHECK(widest_mm == Approx(hole.slot_mm).margin(0.1));
    // beside each eye a tongue: from it outwards wood, then hole again
    for (const auto& [eye, across] : {std::pair{hole.upper, 1.0}, std::pair{hole.lower, -1.0}}) {
        int edges = 0;
        for (double mm = 0.05; mm < 16.0; mm += 0.05)
            edges += contains(right, {eye.x_mm + across * mm, eye.y_mm}) !=
                     contains(right, {eye.x_mm + across * (mm - 0.05), eye.y_mm});
        CHECK(edges >= 2);
    }
}

TEST_CASE("a hole's round line is drawn to a tenth of a millimetre") {
    const Loop right = f_hole_loops(usual_f_hole(test::violin().size)).front();
    const std::size_t count = right.size();
    for (std::size_t k = 0; k < count; ++k) {
        const Point a = right[k], b = right[(k + 1) % count], c = right[(k + 2) % count];
        const double from = std::atan2(b.y_mm - a.y_mm, b.x_mm - a.x_mm),
                     to = std::atan2(c.y_mm - b.y_mm, c.x_mm - b.x_mm);
        const double turn = std::remainder(to - from, 2.0 * std::numbers::pi);
        const double side_mm = std::min(std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm),
                                        std::hypot(c.x_mm - b.x_mm, c.y_mm - b.y_mm));
        CAPTURE(b.x_mm, b.y_mm);
        CHECK(side_mm * turn / 8.0 <
              0.1); // the arc's height over its chord; eyes' ends turn inwards
    }
}

TEST_CASE("eyes wider than their curl leave the tongue of wood, whatever is typed") {
    FHole hole = usual_f_hole(test::violin().size);
    hole.upper_eye_mm = hole.lower_eye_mm = hole.slot_mm = 30.0;
    for (const Loop& loop : f_hole_loops(hole))
        CHECK_FALSE(find_crossing(loop));
}

TEST_CASE("a bar is as high as it is given, falls to its ends, and weighs what its wood weighs") {
    BassBar bar = usual_bar(test::violin().size);
    CHECK(bar.height_at(0.0) == Approx(bar.end_height_mm));
    CHECK(bar.height_at(0.5) == Approx(bar.height_mm));
    CHECK(bar.height_at(1.0) == Approx(bar.end_height_mm));
    bar.height_mm = 10.0, bar.end_height_mm = 2.0, bar.fullness = 2.0;
    CHECK(bar.height_at(0.25) == Approx(8.0)); // a parabola: a quarter of the fall half way out
    bar.density_kg_m3 = 500.0;
    const Wood spruce = find_species("norway_spruce")->wood;
    const auto model_with = [&](const std::optional<BassBar>& one) {
        return PlateModel({test::violin(), {}, {}, {}, one}, 30.0);
    };
    const auto grams = [&](const PlateModel& model) {
        return model.mass_g(model.thickness_at([](Point) { return 3.0; }), {spruce, spruce});
    };
    const PlateModel low = model_with(bar);
    const double length_mm =
        std::hypot(bar.upper.x_mm - bar.lower.x_mm, bar.upper.y_mm - bar.lower.y_mm);
    // under a parabola: two thirds of the way from its ends' height to its middle's
    const double own_g = 500e-6 * bar.width_mm * length_mm * (2.0 + 2.0 / 3.0 * 8.0);
    const double bare_g = grams(model_with({}));
    CHECK(grams(low) - bare_g == Approx(own_g).epsilon(0.1));
    bar.density_kg_m3 = 1000.0;
    CHECK(grams(model_with(bar)) - grams(low) == Approx(own_g).epsilon(0.05));
    // and stiffens the plate along: the more the higher
    const auto second_hz = [&](const PlateModel& model) {
        const auto h = model.thickness_at([](Point) { return 3.0; });
        return model.solve(h, {spruce, spruce}, 3).frequency_hz[1];
    };
    bar.density_kg_m3 = 500.0;
    bar.height_mm = 14.0;
    CHECK(second_hz(model_with(bar)) > 1.005 * second_hz(low));
}

TEST_CASE("heights are read as makers type them, and faults name the line") {
    const auto read = heights_from_csv(
        "arch, outside\nx; y; height\nmm; mm; mm\n0; 178; 15,25\n-40,5\t80\t3.5\n10 200 14\n",
        test::violin());
    REQUIRE(read);
    REQUIRE(read->size() == 3);
    CHECK((*read)[0].height_mm == 15.25);
    CHECK((*read)[1].at == Point{-40.5, 80.0});
    CHECK((*read)[2].height_mm == 14.0);
    CHECK(heights_from_csv("0, 178, 0\n0, 178, 60\n", test::violin()));
    const auto fault = [](std::string_view text) {
        const auto heights = heights_from_csv(text, test::violin());
        return heights ? std::string{"none"} : heights.fault().what;
    };
    for (const char* line : {"0; 178", "0; 178; x", "0; 178; -1", "0; 178; 60.5", "0; 178; 1; 2"}) {
        CAPTURE(line);
        CHECK_THAT(fault(std::string("x; y; h\n0; 178; 15\n") + line),
                   ContainsSubstring("Line 3") && ContainsSubstring("no height"));
    }
    CHECK(fault("a\nb\nc\nd\ne\nf\n0; 178; 15\n") == "none");
    CHECK_THAT(fault("a\nb\nc\nd\ne\nf\ng\n0; 178; 15\n"), ContainsSubstring("Line 7"));
    CHECK_THAT(fault("0; 178; 15\n120; 178; 5\n"), ContainsSubstring("line 2 lies outside"));
    CHECK_THAT(fault("x; y; h\n"), ContainsSubstring("holds a height"));
}
