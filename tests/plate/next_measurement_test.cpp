// What to measure next. With one unknown open, what a reading leaves of its deviation is a
// scalar's: 1 / sqrt(1 + (slope sd / error)^2) (Gauss; the same in K. Chaloner, I. Verdinelli 1995,
// eq. 4).
#include "plate/fit/next_measurement.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <Eigen/LU>

#include <algorithm>
#include <array>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

/// A back before and after half a millimetre all over, of which one thing alone is not known.
struct OneOpen {
    PlateModel model{{test::violin(), {}, {}, {}, {}}, 25.0};
    PlateFit fit;
    Eigen::VectorXd thickness_mm;
    FittedState now, then;
    Measurable what;

    OneOpen() {
        Wood w = find_species("red_maple")->wood;
        w.lie.ring_rad = 0.2;
        fit.wood = {w, w};
        thickness_mm = model.thickness_at([](Point p) { return 3.2 + 0.003 * p.y_mm; });
        now = fitted_state(model, fit, thickness_mm);
        then = fitted_state(model, fit, (thickness_mm.array() - 0.5).matrix(), now.modes.shapes);
        what.mass_places = {{0.0, 178.0}, {70.0, 70.0}, {-70.0, 70.0}};
    }
    std::vector<NextMeasurement> next(FitUnknown open, double sd) {
        fit.covariance.setZero();
        if (sd > 0.0)
            fit.covariance(static_cast<int>(open), static_cast<int>(open)) = sd * sd;
        auto forecasts = forecast_shifts(model, fit, now, then, std::array{1, 2, 5});
        for (ShiftForecast& f : forecasts) // without the model's own error
            f.shift_sd_hz = 0.0;
        return next_measurements(model, fit, thickness_mm, now, then, forecasts, what);
    }
    const NextMeasurement* offered(const std::vector<NextMeasurement>& all, MeasurementKind kind) {
        const auto found = std::ranges::find(all, kind, &NextMeasurement::kind);
        return found == all.end() ? nullptr : &*found;
    }
};

double left_of(double sd, double error) { return 1.0 / std::sqrt(1.0 + sd * sd / error / error); }

} // namespace

TEST_CASE("what is open alone says what to measure, and how much that leaves") {
    OneOpen back;
    back.what.is_weighed = false;
    const FitPriors usual;
    struct Case {
        FitUnknown open;
        double sd;
        MeasurementKind kind;
        double error; // of that reading, in the unknown
    };
    for (const Case& c : {Case{FitUnknown::e_l, 0.2, MeasurementKind::offcut, 0.05},
                          Case{FitUnknown::density, 0.1, MeasurementKind::scales, usual.mass},
                          Case{FitUnknown::ring, 0.3, MeasurementKind::rings, 0.035}}) {
        const auto all = back.next(c.open, c.sd);
        const NextMeasurement* asked = back.offered(all, c.kind);
        CAPTURE(static_cast<int>(c.kind));
        REQUIRE(asked != nullptr);
        CHECK(asked->remains == Approx(left_of(c.sd, c.error)));
        CHECK(asked->gained_hz > 0.05);
        // All forecasts hang on the one unknown, and are narrowed alike.
        CHECK(asked->score == Approx(-std::log(asked->remains) / asked->minutes));
        for (const MeasurementKind other :
             {MeasurementKind::offcut, MeasurementKind::scales, MeasurementKind::rings})
            if (other != c.kind)
                CHECK(back.offered(all, other) == nullptr);
    }
}

TEST_CASE("best first, of masses one, and nothing where nothing is open or it was done already") {
    OneOpen back;
    const auto of_wood = back.next(FitUnknown::e_r, 0.25);
    REQUIRE_FALSE(of_wood.empty());
    CHECK(std::ranges::is_sorted(of_wood, std::greater{}, &NextMeasurement::score));
    CHECK(std::ranges::count(of_wood, MeasurementKind::mass, &NextMeasurement::kind) == 1);
    CHECK(back.offered(of_wood, MeasurementKind::mass)->remains < 0.9);
    CHECK(back.next(FitUnknown::e_r, 0.0).empty());
    const auto of_arch = back.next(FitUnknown::arch, 1.0);
    const NextMeasurement* heights = back.offered(of_arch, MeasurementKind::heights);
    REQUIRE(heights != nullptr);
    CHECK(heights->heights.size() >= 3);
    for (const Point p : heights->heights)
        CHECK(p.x_mm == Approx(0.0).margin(0.5));
    back.what.has_heights = back.what.has_rings = true;
    CHECK(back.offered(back.next(FitUnknown::arch, 1.0), MeasurementKind::heights) == nullptr);
    CHECK(back.offered(back.next(FitUnknown::ring, 0.3), MeasurementKind::rings) == nullptr);
    CHECK(back.offered(back.next(FitUnknown::density, 0.1), MeasurementKind::scales) == nullptr);
}

TEST_CASE("a flex is offered where it tells of what is open, by its own error and its supports'") {
    OneOpen back;
    const FlexReading across{
        "crosswise", {{-70.0, 60.0}, {-70.0, 100.0}, {70.0, 80.0}}, {0.0, 80.0}, 500.0, 0.0, 0.02};
    back.what.flexes = {across};
    const auto all = back.next(FitUnknown::e_r, 0.25);
    const NextMeasurement* flex = back.offered(all, MeasurementKind::flex);
    REQUIRE(flex != nullptr);
    const FlexValue value =
        flex_value(back.model, back.thickness_mm, back.fit.arch, back.fit.wood, across);
    const double slope = slope_of(value)[static_cast<int>(FitUnknown::e_r)];
    const double error = std::hypot(0.02, FitPriors{}.flex * value.deflection_mm);
    CHECK(flex->remains == Approx(left_of(0.25, error / std::abs(slope))));
    const auto of_density = back.next(FitUnknown::density, 0.1); // which bends nothing
    CHECK(back.offered(of_density, MeasurementKind::flex) == nullptr);
}

TEST_CASE("a mass is worth what its taps, the model and its place leave of the modes it moves") {
    OneOpen back;
    back.what.mass_places = {{0.0, 20.0}, {70.0, 70.0}, {0.0, 335.0}, {50.0, 178.0}, {30.0, 60.0}};
    constexpr double k_sd = 0.25, k_taps_sd = 3e-4;
    const auto all = back.next(FitUnknown::e_r, k_sd);
    const NextMeasurement* offered = back.offered(all, MeasurementKind::mass);
    REQUIRE(offered != nullptr);
    std::vector<int> indices;
    for (const ShapeName& name : back.now.names)
        indices.push_back(name.index);
    const auto modes = weighed_modes(back.model, back.thickness_mm, back.fit.arch, back.fit.wood,
                                     back.now.modes, std::array{offered->mass}, indices, true)[0];
    REQUIRE(modes.size() == 3);
    Eigen::Vector3d slope;
    Eigen::Matrix3d error = k_taps_sd * k_taps_sd * Eigen::Matrix3d::Identity();
    for (std::size_t k = 0; k < k_round; ++k) { // the modes of one mass are off together
        const Eigen::Vector3d off(modes[0].elsewhere[k], modes[1].elsewhere[k],
                                  modes[2].elsewhere[k]);
        error += off * off.transpose() / k_round;
    }
    for (Eigen::Index i = 0; i < 3; ++i) {
        const WeighedMode& mode = modes[static_cast<std::size_t>(i)];
        constexpr std::array k_numbers{1, 2, 5};
        error(i, i) += std::pow(weighed_model_sd(k_numbers[static_cast<std::size_t>(i)],
                                                 mode.log_ratio, 1.0, back.now.mass_g),
                                2);
        // of the ratio alone: with the mass less without it
        slope[i] = mode.by_wood[static_cast<int>(FitUnknown::e_r)] -
                   back.now.by_unknown(static_cast<int>(FitUnknown::e_r), mode.index) /
                       back.now.modes.frequency_hz[mode.index];
    }
    const double told = slope.dot(error.inverse() * slope);
    CHECK(offered->remains == Approx(1.0 / std::sqrt(1.0 + k_sd * k_sd * told)).epsilon(1e-3));
}

TEST_CASE("places for masses lie on the centre line and in pairs beside it, inside the edge") {
    const auto places = mass_places(test::violin());
    CHECK(places.size() > 20);
    for (const Point p : places) {
        CHECK(test::violin().holds(p));
        CHECK(distance_mm(test::violin().rim, p) >= 8.0);
        CHECK(std::ranges::any_of(
            places, [&](Point q) { return std::hypot(q.x_mm + p.x_mm, q.y_mm - p.y_mm) < 0.1; }));
        CHECK(std::ranges::count_if(places, [&](Point q) {
                  return std::hypot(q.x_mm - p.x_mm, q.y_mm - p.y_mm) < 9.0;
              }) == 1); // itself
    }
    CHECK(std::ranges::count_if(places, [](Point p) { return std::abs(p.x_mm) < 0.5; }) >= 7);
}
