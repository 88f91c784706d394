#include "plate/plan/rehearsal.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <array>
#include <cmath>
#include <numbers>

using namespace platewright;
using namespace platewright::plate;

namespace {

constexpr std::array k_named{1, 2, 5};

/// A back whose wood is known for sure, fitted or not.
struct SureBack {
    PlateModel model{{test::violin(), {}, {}, {}, {}}, 30.0};
    PlateFit fit;
    Eigen::VectorXd thickness_mm = model.thickness_at(
        [](Point p) { return 3.0 + 1.2 * std::exp(-std::pow((p.y_mm - 178.0) / 90.0, 2)); });
    FittedState now;

    SureBack() {
        const Wood w = find_species("red_maple")->wood;
        fit.wood = {w, w};
        now = fitted_state(model, fit, thickness_mm);
    }
    Rehearsal rehearsed(const Cut& cut) const {
        return rehearse(model, fit, now, thickness_mm, cut, k_named);
    }
};

} // namespace

TEST_CASE("a cut is as deep as it is said in its middle, half of that halfway out, and nothing at "
          "its rim and beyond") {
    const Cut cut{{10.0, 150.0}, 60.0, 0.4};
    for (const double angle : {0.0, 1.0, 2.5, 4.5}) {
        const auto depth_at = [&](double mm) {
            return depth_mm(cut, {10.0 + mm * std::cos(angle), 150.0 + mm * std::sin(angle)});
        };
        CHECK(depth_at(0.0) == Approx(0.4));
        CHECK(depth_at(10.0) == Approx(0.3)); // cos 60°
        CHECK(depth_at(15.0) == Approx(0.2));
        CHECK(depth_at(30.0) == Approx(0.0).margin(1e-12));
        CHECK(depth_at(90.0) == Approx(0.0).margin(1e-12));
    }
}

TEST_CASE("a rehearsed cut weighs what its wood weighs, and says what is left beneath it") {
    const SureBack back;
    const Cut cut{{0.0, 150.0}, 100.0, 0.4};
    const Rehearsal r = back.rehearsed(cut);
    // A raised cosine of radius R holds pi R^2 (1/2 - 2/pi^2) of its depth, by hand; near the
    // middle a plate is level.
    using std::numbers::pi;
    const double mm3 = pi * 50.0 * 50.0 * (0.5 - 2.0 / (pi * pi)) * 0.4;
    CHECK(r.wood_g == Approx(1e-6 * mm3 * back.fit.wood.left.density_kg_m3).epsilon(0.05));
    CHECK(r.removal_mm.maxCoeff() == Approx(0.4).epsilon(0.05));
    double least = 10.0;
    for (Eigen::Index i = 0; i < r.removal_mm.size(); ++i)
        if (r.removal_mm[i] > 0.0)
            least = std::min(least, back.thickness_mm[i] - r.removal_mm[i]);
    CHECK(r.thinnest_mm == least);
    CHECK(r.thinnest_mm > back.thickness_mm.minCoeff()); // which is far from this cut
}

TEST_CASE("a rehearsed cut moves the modes as a plate solved with it does, and a larger one is "
          "less sure") {
    const SureBack back;
    const Cut small{{0.0, 150.0}, 60.0, 0.2}, large{{0.0, 150.0}, 100.0, 0.4};
    for (const Cut& cut : {small, large}) {
        const Rehearsal r = back.rehearsed(cut);
        const auto then = back.model.solve(back.thickness_mm - r.removal_mm, back.fit.wood, 10);
        REQUIRE(r.shifts.size() == 3);
        for (std::size_t k = 0; k < 3; ++k) {
            const int index = back.now.names[k].index;
            const double shift = then.frequency_hz[index] - back.now.modes.frequency_hz[index];
            CHECK(r.shifts[k].shift_hz == Approx(shift).margin(1e-3));
            // 0.015 Hz for each 100 mm^3 were seen of the mesh (rehearsal.hpp)
            const double mm3 = 1e6 * r.wood_g / back.fit.wood.left.density_kg_m3;
            CHECK(r.shifts[k].shift_sd_hz >= 0.015 * mm3 / 100.0);
        }
    }
    CHECK(back.rehearsed(large).shifts[2].shift_sd_hz >
          3.0 * back.rehearsed(small).shifts[2].shift_sd_hz);
}
