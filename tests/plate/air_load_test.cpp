#include "plate/shell/air_load.hpp"
#include "plate/shell/shape_names.hpp"
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;

namespace {

PlanMesh ellipse(double half_across_mm, double half_along_mm, double side_mm) {
    Loop rim;
    for (int k = 0; k < 400; ++k) {
        const double turn = 2.0 * std::numbers::pi * k / 400.0;
        rim.push_back({half_across_mm * std::cos(turn), half_along_mm * std::sin(turn)});
    }
    return mesh_plan({spaced_loop(rim, side_mm), {}, {}}, side_mm);
}

} // namespace

TEST_CASE("the air of rigid discs and ellipses is that of the textbook") {
    // A disc of radius a: 8/3 rho a^3 broadside, 16/45 rho a^5 about a diameter (H. Lamb,
    // Hydrodynamics, 6th ed., sections 102 and 108); an elliptic plate: 4/3 pi rho a b^2 / E(k),
    // k^2 = 1 - b^2/a^2, from the same potential (from memory; a = b gives the disc's).
    const auto disc = ellipse(100.0, 100.0, 8.0);
    Eigen::MatrixXd z = Eigen::MatrixXd::Ones(static_cast<Eigen::Index>(disc.points.size()), 2);
    for (std::size_t i = 0; i < disc.points.size(); ++i)
        z(static_cast<Eigen::Index>(i), 1) = 1e-3 * disc.points[i].x_mm;
    const Eigen::MatrixXd moved = AirLoad(disc).moved_m3(z);
    CHECK(moved(0, 0) == Approx(8.0 / 3.0 * 1e-3).epsilon(0.01));
    CHECK(moved(1, 1) == Approx(16.0 / 45.0 * 1e-5).epsilon(0.015));
    CHECK(std::abs(moved(0, 1)) < 1e-3 * std::sqrt(moved(0, 0) * moved(1, 1)));
    const auto oval = ellipse(60.0, 100.0, 8.0);
    z = Eigen::MatrixXd::Ones(static_cast<Eigen::Index>(oval.points.size()), 1);
    CHECK(AirLoad(oval).moved_m3(z)(0, 0) ==
          Approx(4.0 / 3.0 * std::numbers::pi * 0.1 * 0.06 * 0.06 / std::comp_ellint_2(0.8))
              .epsilon(0.01));
}

TEST_CASE("the air that violin plates carry is what constant doublets on their surface gave") {
    // ../shared/plate-truth.md: a boundary-element model of another kind (constant doublets on the
    // arched surface; a disc within 5 %; before f-holes and bar), shares of modal mass of modes 1,
    // 2, 5 in per cent.
    struct Known {
        double middle_mm, edge_mm, density;
        bool is_top;
        std::array<double, 3> share;
    };
    for (const Known& known : {Known{4.4, 2.7, 600.0, false, {0.030, 0.027, 0.028}},
                               Known{3.1, 2.7, 400.0, true, {0.047, 0.041, 0.055}},
                               Known{2.25, 2.0, 430.0, true, {0.059, 0.052, 0.070}}}) {
        PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
        Wood wood = find_species(known.is_top ? "norway_spruce" : "red_maple")->wood;
        wood.density_kg_m3 = known.density;
        const PlateModel dry(form), hung(form, PlateModel::k_fineness, 1.2);
        const auto h = dry.thickness_at([&](Point p) {
            const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
            return known.edge_mm +
                   (known.middle_mm - known.edge_mm) * std::exp(-2.2 * y * y - 2.5 * x * x);
        });
        const auto without = dry.solve(h, {wood, wood}, 10), with = hung.solve(h, {wood, wood}, 10);
        CHECK(without.air_share.isZero(0.0));
        const auto names = ShapeJudge(dry).names(without.shapes);
        for (std::size_t k = 0; k < 3; ++k) {
            const auto at = static_cast<Eigen::Index>(names[k].index);
            const double fallen = with.frequency_hz[at] / without.frequency_hz[at];
            INFO(known.middle_mm << " mm, mode " << names[k].number << ": share "
                                 << with.air_share[at]);
            // the air's share of the modal mass with it; their wood and arch are not said
            CHECK(with.air_share[at] / (1.0 - with.air_share[at]) ==
                  Approx(known.share[k]).epsilon(0.15));
            CHECK(fallen == Approx(std::sqrt(1.0 - with.air_share[at])).epsilon(0.001));
        }
        // ten modes or sixteen: what the air would mix in of higher ones
        const auto more = hung.solve(h, {wood, wood}, 16);
        for (Eigen::Index k = 0; k < 6; ++k)
            CHECK(more.frequency_hz[k] == Approx(with.frequency_hz[k]).epsilon(3e-4));
    }
}

TEST_CASE("humid air is as dense as the published formula has it") {
    // ISO 2533 / ICAO standard atmosphere: dry air at 15 degrees, 1013.25 hPa: 1.2250 kg/m^3
    CHECK(air_density_kg_m3(15.0, 0.0) == Approx(1.2250).epsilon(5e-4));
    // humid air is lighter
    CHECK(air_density_kg_m3(20.0, 60.0) < air_density_kg_m3(20.0, 30.0));
    CHECK(air_density_kg_m3(20.0, 50.0) == Approx(1.1992).epsilon(1e-3)); // CIPM-2007, from memory
}
