#include "plate/mesh/mesh.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shape/outline.hpp"
#include "plate/thickness/table_text.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;

TEST_CASE("an outline has the length and widths it was asked for, and no crossing") {
    for (const auto kind : {modes::InstrumentKind::violin, modes::InstrumentKind::viola,
                            modes::InstrumentKind::cello}) {
        const auto size = usual_size(kind);
        const auto made = make_outline(size);
        REQUIRE(made);
        const Outline& outline = *made;
        CHECK_FALSE(find_crossing(outline.rim));
        CHECK(outline.area_mm2() > 0.0);
        const auto width = [&](double y) {
            return outline.extent(y).right_mm - outline.extent(y).left_mm;
        };
        CHECK(width(outline.lower_y_mm + 0.01) == Approx(size.lower_mm).epsilon(0.002));
        CHECK(width(outline.waist_y_mm + 0.01) == Approx(size.waist_mm).epsilon(0.002));
        CHECK(width(outline.upper_y_mm + 0.01) == Approx(size.upper_mm).epsilon(0.002));
        // measured back from its own points
        const auto again = outline_from_points(outline.rim);
        REQUIRE(again);
        CHECK(again->size.length_mm == Approx(size.length_mm));
        CHECK(again->size.lower_mm == Approx(size.lower_mm).epsilon(0.002));
        CHECK(again->size.waist_mm == Approx(size.waist_mm).epsilon(0.002));
        CHECK(again->size.upper_mm == Approx(size.upper_mm).epsilon(0.002));
    }
}

TEST_CASE("a violin's outline encloses about what a violin's does") {
    // 0.48 to 0.53 square decimetres of 10: a plate of 355 x 207 mm fills about 70 % of its box
    // (common practice, no source)
    const auto outline = *make_outline(usual_size(modes::InstrumentKind::violin));
    const double share = outline.area_mm2() / (355.0 * 207.0);
    CHECK(share > 0.64);
    CHECK(share < 0.76);
}

TEST_CASE("measures that no plate has are refused by name") {
    CHECK(make_outline({0.0, 167.0, 110.0, 207.0}).fault().what.find("length") !=
          std::string::npos);
    CHECK(make_outline({355.0, 167.0, 170.0, 207.0}).fault().what.find("waist") !=
          std::string::npos);
    CHECK(make_outline({200.0, 167.0, 110.0, 207.0}).fault().what.find("wider than") !=
          std::string::npos);
}

TEST_CASE("an outline that crosses itself is refused, naming the places") {
    std::vector<Point> points{{-50, 0},  {50, 0},    {50, 100}, {-50, 200},
                              {50, 200}, {-50, 100}, {-60, 60}, {-60, 30}};
    const auto made = outline_from_points(points);
    REQUIRE_FALSE(made);
    CHECK(made.fault().what.find("crosses itself") != std::string::npos);
    CHECK(made.fault().what.find("point 3") != std::string::npos);
}

TEST_CASE("an outline is read from CSV with decimal commas, and faults name the line") {
    std::string text = "x;y\n";
    const auto outline = *make_outline(usual_size(modes::InstrumentKind::violin));
    for (const auto& p : outline.rim)
        text += std::to_string(static_cast<int>(p.x_mm)) + ",5;" +
                std::to_string(static_cast<int>(p.y_mm)) + ",25\n";
    const auto read = outline_from_csv(text);
    REQUIRE(read);
    CHECK(read->size.length_mm == Approx(355.0).margin(1.0));
    CHECK(read->size.lower_mm == Approx(207.0).margin(2.5));
    const auto bad = outline_from_csv("1,2\n3,4\n5,6,7\n");
    REQUIRE_FALSE(bad);
    CHECK(bad.fault().what.find("Line 3") != std::string::npos);
    const auto metres =
        outline_from_csv("0,0\n.1,0\n.2,.1\n.2,.2\n.1,.35\n0,.35\n-.1,.2\n-.1,.1\n");
    REQUIRE_FALSE(metres);
    CHECK(metres.fault().what.find("in mm") != std::string::npos);
}

TEST_CASE("an SVG path is followed command by command") {
    // an ellipse of 200 x 300 mm in four Bezier arcs, absolute and relative, with packed numbers;
    // kappa 0.5522847 holds a quarter circle within 0.03 % (published approximation, from memory)
    const auto path =
        outline_from_svg_path("M 0 0 c 55.22847 0 100-67.15729 100-150 S 55.22847-300 0-300 "
                              "C -55.22847,-300 -100,-232.84271 -100,-150 S-55.22847,0 0,0 z");
    REQUIRE(path);
    CHECK(path->size.length_mm == Approx(300.0));
    CHECK(path->area_mm2() == Approx(std::numbers::pi * 100.0 * 150.0).epsilon(0.005));
    const auto box = outline_from_svg_path("m0,0 100,0 v-50 l0-50 0,-50 h-50h-50 V -100 L0-50 Z");
    REQUIRE(box);
    CHECK(box->area_mm2() == Approx(15000.0));
    CHECK_FALSE(outline_from_svg_path("M0 0 A 5 5 0 0 1 10 10 z"));
    CHECK_FALSE(outline_from_svg_path("M0 0 L 10"));
    CHECK_FALSE(outline_from_svg_path("M0 0 L 10 0 Z M 5 5 L 7 7 Z"));
    CHECK_FALSE(outline_from_svg_path(""));
}

TEST_CASE("a mesh covers its region exactly, follows slots and bar, and turns no triangle over") {
    const auto size = usual_size(modes::InstrumentKind::violin);
    const auto outline = *make_outline(size);
    PlanRegion region{outline.rim, {}, {}};
    for (const auto& loop : f_hole_loops(usual_f_hole(size))) {
        CHECK_FALSE(find_crossing(loop));
        CHECK(signed_area_mm2(loop) > 0.0);
        region.holes.push_back(loop);
    }
    const auto bar = usual_bar(size);
    region.lines.push_back({bar.lower, bar.upper});
    const double whole =
        outline.area_mm2() - signed_area_mm2(region.holes[0]) - signed_area_mm2(region.holes[1]);
    for (const double step : {14.0, 10.0, 7.0}) {
        const PlanMesh mesh = mesh_plan(region, step);
        double area = 0.0, least = 1e9;
        std::vector<int> used(mesh.points.size(), 0);
        for (const auto& t : mesh.triangles) {
            std::array<Point, 3> c{};
            for (std::size_t k = 0; k < 3; ++k) {
                c[k] = mesh.points[static_cast<std::size_t>(t[k])];
                ++used[static_cast<std::size_t>(t[k])];
            }
            area += signed_area_mm2(c);
            least = std::min(least, signed_area_mm2(c));
        }
        CHECK(area == Approx(whole).epsilon(0.006)); // chords cut the curves
        CHECK(least > 0.02 * step * step);
        CHECK(std::count(used.begin(), used.end(), 0) == 0);
        REQUIRE(mesh.lines.size() == 1);
        CHECK(mesh.points[static_cast<std::size_t>(mesh.lines[0].front())].y_mm ==
              Approx(bar.lower.y_mm));
    }
}

TEST_CASE("a path in a comment, in plain text or in another tag's words is no outline") {
    const std::string square =
        "M 0 0 L 207 0 L 207 355 L 104 355 L 0 355 L 0 300 L 0 200 L 0 100 Z";
    const auto drawing = [&](const std::string& before) {
        return outline_from_svg("<?xml version=\"1.0\"?><svg>" + before + "<path id=\"a>b\"\n d='" +
                                square + "'/></svg>");
    };
    for (const char* before : {"", "<!-- <path d=\"M 0 0 L 1 1 Z\"/> -->",
                               "<!-- wider > narrower: <path d=\"M 0 0 L 1 1 Z\"/> -->",
                               "<![CDATA[<path d=\"M 0 0 L 1 1 Z\"/>]]>",
                               "<![CDATA[wide > narrow: <path d=\"M 0 0 L 1 1 Z\"/>]]>",
                               "<desc id=\"d=\" d=\"M 1 1\"/>", "<pathology d=\"M 1 1\"/>"}) {
        const auto outline = drawing(before);
        INFO(before << (outline ? "" : outline.fault().what));
        REQUIRE(outline);
        CHECK(outline->size.length_mm == Approx(355.0));
    }
    CHECK_FALSE(outline_from_svg("<svg><!-- <path d=\"" + square + "\"/> --></svg>"));
}

TEST_CASE("a traced scan of very many points is thinned to its own line") {
    const auto drawn = *make_outline(usual_size(modes::InstrumentKind::violin));
    const Loop fine = spaced_loop(drawn.rim, 0.04); // some 25 000 points
    REQUIRE(fine.size() > 20'000);
    const auto outline = outline_from_points(fine);
    REQUIRE(outline);
    CHECK(outline->rim.size() < 1000);
    CHECK(outline->area_mm2() == Approx(drawn.area_mm2()).epsilon(2e-4));
    CHECK(outline->size.waist_mm == Approx(drawn.size.waist_mm).margin(0.1));
    for (std::size_t i = 0; i < fine.size(); i += 97)
        if (distance_mm(outline->rim, {fine[i].x_mm, fine[i].y_mm}) > 0.031)
            FAIL("point " << i << " lies off the thinned line");
}

TEST_CASE("a table with old line ends has as many lines as any other") {
    // carriage returns alone, as before 2001
    const auto lines = lines_of("a\rb\r\nc\n\nd");
    REQUIRE(lines.size() == 4);
    CHECK(lines[3].number == 5);
    CHECK(lines[1].text == "b");
}
