#include "plate/mesh/contour.hpp"
#include "plate/shape/spots.hpp"
#include "plate/shell/shape_names.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;

namespace {

Eigen::VectorXd sampled(const PlanMesh& mesh, double (*f)(Point)) {
    Eigen::VectorXd values(static_cast<Eigen::Index>(mesh.points.size()));
    for (Eigen::Index i = 0; i < values.size(); ++i)
        values[i] = f(mesh.points[static_cast<std::size_t>(i)]);
    return values;
}

} // namespace

TEST_CASE("a contour of a cone is one closed circle, and of a slope one line from edge to edge") {
    const PlanMesh mesh = mesh_plan({{{-100, 0}, {100, 0}, {100, 200}, {-100, 200}}, {}, {}}, 8.0);
    const auto cone = sampled(mesh, [](Point p) { return std::hypot(p.x_mm, p.y_mm - 100.0); });
    const auto circles = contour(mesh, cone, 60.0);
    REQUIRE(circles.size() == 1);
    const auto& circle = circles.front();
    CHECK(std::hypot(circle.front().x_mm - circle.back().x_mm,
                     circle.front().y_mm - circle.back().y_mm) < 1e-9);
    double length = 0.0;
    for (std::size_t i = 1; i < circle.size(); ++i) {
        CHECK(std::hypot(circle[i].x_mm, circle[i].y_mm - 100.0) == Approx(60.0).margin(0.3));
        length +=
            std::hypot(circle[i].x_mm - circle[i - 1].x_mm, circle[i].y_mm - circle[i - 1].y_mm);
    }
    CHECK(length == Approx(2.0 * std::numbers::pi * 60.0).epsilon(0.01));
    const auto slope = sampled(mesh, [](Point p) { return p.y_mm; });
    const auto lines = contour(mesh, slope, 77.0);
    REQUIRE(lines.size() == 1);
    CHECK(std::abs(lines.front().front().x_mm - lines.front().back().x_mm) == Approx(200.0));
    CHECK(contour(mesh, slope, 500.0).empty());
    CHECK(value_at(mesh, slope, {13.0, 41.5}) == Approx(41.5));
    CHECK_THROWS_AS(contour(mesh, Eigen::VectorXd::Zero(3), 0.0), std::invalid_argument);
}

TEST_CASE("the trade's spots answer as the trade says") {
    // common practice, no source: mode 1 rings at the bouts' edges and is still at the centre;
    // mode 5 rings at the centre
    PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
    const PlateModel model(form, 28.0);
    const Wood w = find_species("red_maple")->wood;
    const auto solved = model.solve(model.thickness_at([](Point) { return 3.2; }), {w, w}, 8);
    const auto names = ShapeJudge(model).names(solved.shapes);
    const auto level = [&](int mode, taps::Spot spot) {
        for (const auto& at :
             spot_amplitudes(form.outline, model.shell().mesh(), solved.shapes, mode))
            if (at.spot == spot)
                return at.level_db;
        return 1e9;
    };
    CHECK(level(names[0].index, taps::Spot::centre) < -15.0);
    CHECK(level(names[0].index, taps::Spot::lower_bout_left) > -6.0);
    CHECK(level(names[2].index, taps::Spot::centre) > -12.0);
    CHECK(level(names[1].index, taps::Spot::lower_end) > -6.0);
    for (const auto spot : taps::k_spots)
        if (const auto place = spot_place(form.outline, spot))
            CHECK(form.outline.holds(*place));
}
