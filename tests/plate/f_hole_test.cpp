// The maker's own f-holes: read as an outline is, and cut out of the model as they were drawn.
#include "plate/mesh/mesh.hpp"
#include "plate/plate_model.hpp"
#include "plate/shape/fittings.hpp"
#include "plate/shape/hole_text.hpp"
#include "plate/shape/outline.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <fmt/format.h>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;
using test::violin;

namespace {

Loop usual_right() { return f_hole_loops(usual_f_hole(violin().size)).front(); }

/// As a drawing program writes it: y downwards, somewhere on its page.
std::string path_of(const Loop& loop, double right_mm = 0.0, double down_mm = 0.0) {
    std::string path;
    for (const Point p : loop)
        path += fmt::format("{}{:.17g},{:.17g} ", path.empty() ? "M" : "L", p.x_mm + right_mm,
                            down_mm - p.y_mm);
    return path + "Z";
}

std::string lines_of_points(const Loop& loop) {
    std::string text;
    for (const Point p : loop)
        text += fmt::format("{:.17g}; {:.17g}\n", p.x_mm, p.y_mm);
    return text;
}

double farthest_apart(const Loop& a, const Loop& b) {
    double most = 0.0;
    for (const Point p : a)
        most = std::max(most, distance_mm(b, p));
    for (const Point p : b)
        most = std::max(most, distance_mm(a, p));
    return most;
}

/// A plain oval, so wide and high.
Loop oval(Point middle, double wide_mm, double high_mm, int points = 40) {
    Loop loop;
    for (int k = 0; k < points; ++k) {
        const double angle = 2.0 * std::numbers::pi * k / points;
        loop.push_back({middle.x_mm + 0.5 * wide_mm * std::cos(angle),
                        middle.y_mm + 0.5 * high_mm * std::sin(angle)});
    }
    return loop;
}

Eigen::VectorXd frequencies(const std::vector<Loop>& holes) {
    PlateForm form{violin(), {}, {}, holes, {}};
    const PlateModel model(form);
    const auto wood = find_species("norway_spruce")->wood;
    return model.solve(model.thickness_at([](Point) { return 2.8; }), {wood, wood}, 8).frequency_hz;
}

bool says_of_loops(const base::Result<std::vector<Loop>>& read, std::string_view words) {
    return !read && read.fault().what.find(words) != std::string::npos;
}

} // namespace

TEST_CASE(
    "a hole given by the default's own line gives the default's modes, from each kind of file") {
    const Loop right = usual_right();
    const Eigen::VectorXd usual = frequencies(f_hole_loops(usual_f_hole(violin().size)));
    for (const auto& read :
         {holes_from_csv(lines_of_points(right)), holes_from_svg_path(path_of(right)),
          holes_from_svg("<svg><!-- <path d='M0 0'/> --><path d=\"" + path_of(right) +
                         "\"/></svg>")}) {
        REQUIRE(read);
        REQUIRE(read->size() == 1);
        CHECK(farthest_apart(read->front(), right) < 1e-9);
        const Eigen::VectorXd drawn = frequencies(f_hole_loops(*read));
        CHECK((drawn - usual).cwiseAbs().maxCoeff() < 1e-3);
    }
}

TEST_CASE("a hole cut elsewhere or larger moves the modes, as cutting wood away does") {
    const auto usual = frequencies(f_hole_loops(usual_f_hole(violin().size)));
    const auto none = frequencies({});
    const auto small = frequencies(f_hole_loops(std::vector<Loop>{oval({42.0, 160.0}, 4.0, 40.0)}));
    const auto large = frequencies(f_hole_loops(std::vector<Loop>{oval({42.0, 160.0}, 8.0, 80.0)}));
    CHECK(small[0] < none[0]);
    CHECK(large[0] < small[0]);
    CHECK(usual[0] < none[0]);
    // the default's hooks free tongues of wood that an oval leaves whole
    CHECK(std::abs(large[4] - usual[4]) > 1.0);
}

TEST_CASE("a left hole mirrors to the right, and two may differ") {
    Loop left = oval({-40.0, 160.0}, 6.0, 70.0);
    const auto alone = holes_from_csv(lines_of_points(left));
    REQUIRE(alone);
    REQUIRE(alone->size() == 1);
    CHECK(contains(alone->front(), {40.0, 160.0}));
    CHECK(signed_area_mm2(alone->front()) > 0.0);
    CHECK(farthest_apart(f_hole_loops(*alone).back(), left) < 1e-9);

    std::reverse(left.begin(), left.end()); // drawn clockwise
    const auto both = holes_from_csv("left\n" + lines_of_points(left) + "right\n" +
                                     lines_of_points(oval({44.0, 158.0}, 6.0, 66.0)));
    REQUIRE(both);
    REQUIRE(both->size() == 2);
    CHECK(contains(both->front(), {44.0, 158.0}));
    CHECK(contains(both->back(), {-40.0, 160.0}));
    for (const Loop& hole : *both)
        CHECK(signed_area_mm2(hole) > 0.0);
    CHECK(f_hole_loops(*both) == *both);
}

TEST_CASE("holes in a drawing with the outline round them lie where they lie in it") {
    const Loop right = usual_right();
    // the whole plate lies anywhere on the page; the outline need not be drawn first
    const std::string hole = path_of(right, 213.5, 480.0);
    const std::string rim = path_of(violin().rim, 213.5, 480.0);
    for (const std::string& drawing : {"<svg><path d='" + rim + "'/><path d='" + hole + "'/></svg>",
                                       "<svg><path d='" + hole + " " + rim + "'/></svg>"}) {
        const auto read = holes_from_svg(drawing);
        REQUIRE(read);
        REQUIRE(read->size() == 1);
        // as near as the outline's own middle is known
        CHECK(farthest_apart(read->front(), right) < 0.01);
    }
}

TEST_CASE("lines that are no f-hole are refused in a sentence") {
    const auto csv = [](const Loop& loop) { return holes_from_csv(lines_of_points(loop)); };
    CHECK(says_of_loops(holes_from_csv(""), "one closed line"));
    CHECK(says_of_loops(holes_from_svg("<svg/>"), "one closed line"));
    CHECK(says_of_loops(csv(oval({40.0, 160.0}, 6.0, 70.0, 7)), "at least 8 points"));
    CHECK(says_of_loops(csv(oval({1.6, 6.3}, 0.24, 2.8)), "in mm")); // inches
    CHECK(says_of_loops(holes_from_csv("40; 130\n45; 140\n40;\n40; 160\n"), "Line 3"));
    CHECK(says_of_loops(holes_from_svg_path("M 1 1 A 5 5 0 0 1 10 10 Z"), "SVG path"));
    CHECK(says_of_loops(holes_from_svg_path("L 1 1 2 2 3 3 Z"), "begin with M"));
    Loop crossed = oval({40.0, 160.0}, 12.0, 70.0);
    std::swap(crossed[5], crossed[25]);
    CHECK(says_of_loops(csv(crossed), "crosses itself"));
    const std::string one = lines_of_points(oval({30.0, 160.0}, 4.0, 60.0));
    const std::string other = lines_of_points(oval({50.0, 160.0}, 4.0, 60.0));
    CHECK(says_of_loops(holes_from_csv(one + "and\n" + other), "one side"));
    CHECK(says_of_loops(holes_from_csv(one + "a\n" + other + "b\n" +
                                       lines_of_points(oval({-50.0, 160.0}, 4.0, 60.0))),
                        "there are 3"));
}

TEST_CASE("the least hole is a quarter of a sixteenth violin's") {
    const auto of_area = [](double mm2) {
        return holes_from_csv(
            lines_of_points(oval({20.0, 80.0}, 2.0, 2.0 * mm2 / std::numbers::pi, 80)));
    };
    CHECK(of_area(24.0));
    CHECK(says_of_loops(of_area(16.0), "next to nothing"));
}

TEST_CASE("a mesh keeps to a hole with necks narrower than its triangles, and beside the edge") {
    // a slot of 1.2 mm that ends in round eyes, and one that runs 2.5 mm beside the C-bout
    Loop slot;
    const auto eye = [&](double y, double from) {
        for (int k = 0; k <= 12; ++k) {
            const double angle = (from + 20.0 + 320.0 * k / 12.0) * std::numbers::pi / 180.0;
            slot.push_back({40.0 + 3.5 * std::cos(angle), y + 3.5 * std::sin(angle)});
        }
    };
    eye(190.0, 270.0);
    eye(130.0, 90.0);
    const Outline::Extent waist = violin().extent(violin().waist_y_mm);
    const Loop beside = oval({waist.right_mm - 4.5, violin().waist_y_mm}, 4.0, 30.0);
    for (const Loop& hole : {slot, beside}) {
        REQUIRE_FALSE(find_crossing(hole));
        PlanRegion region{violin().rim, f_hole_loops(std::vector<Loop>{hole}), {}};
        const PlanMesh mesh = mesh_plan(region, violin().size.length_mm / 35.0);
        const double whole = violin().area_mm2() - 2.0 * std::abs(signed_area_mm2(hole));
        double area = 0.0, in_hole = 0.0;
        for (const auto& t : mesh.triangles) {
            std::array<Point, 3> c{};
            for (std::size_t k = 0; k < 3; ++k)
                c[k] = mesh.points[static_cast<std::size_t>(t[k])];
            CHECK(signed_area_mm2(c) > 0.0);
            area += signed_area_mm2(c);
            for (const Loop& loop : region.holes) // by points within the triangle
                for (const double a : {0.2, 0.6})
                    for (const double b : {0.2, 0.6})
                        if (a + b <= 0.8 + 1e-9 &&
                            contains(loop,
                                     {a * c[0].x_mm + b * c[1].x_mm + (1 - a - b) * c[2].x_mm,
                                      a * c[0].y_mm + b * c[1].y_mm + (1 - a - b) * c[2].y_mm}))
                            in_hole += signed_area_mm2(c) / 3.0;
        }
        CHECK(area == Approx(whole).epsilon(0.004)); // chords cut the curves
        CHECK(in_hole < 0.05 * std::abs(signed_area_mm2(hole)));
    }
}
