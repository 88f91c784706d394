#include "plate/fit/fit.hpp"
#include "support/catch.hpp"
#include "violin.hpp"

#include <array>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

TEST_CASE("a forecast over plates that may be is their mean, as wide as they lie apart") {
    const PlateModel model({test::violin(), {}, {}, {}, {}}, 25.0);
    const Wood usual = find_species("red_maple")->wood;
    const Eigen::VectorXd now_mm = model.thickness_at([](Point) { return 3.5; }),
                          then_mm =
                              model.thickness_at([](Point p) { return 3.3 - 0.001 * p.y_mm; });
    PlateFit fit;
    fit.wood = {usual, usual};
    fit.sampled_mm = now_mm;
    const auto now = fitted_state(model, fit, now_mm);
    const auto then = fitted_state(model, fit, then_mm, now.modes.shapes);
    constexpr std::array k_numbers{1, 2, 5};
    const auto alone = forecast_over(model, fit, now, then, {}, then_mm, k_numbers);
    REQUIRE(alone.size() == 3);
    std::array<std::array<double, 3>, 2> shifts{};
    for (const double softer : {0.7, 1.2}) {
        PlateSample sample;
        sample.wood = scaled(fit.wood, Eigen::Vector4d::Constant(std::log(softer)));
        sample.modes = model.solve(now_mm, sample.wood, 10);
        sample.names = ShapeJudge(model).names(sample.modes.shapes);
        const auto thinned = model.solve(then_mm, sample.wood, 10);
        for (std::size_t k = 0; k < 3; ++k)
            shifts[fit.samples.size()][k] = thinned.frequency_hz[sample.names[k].index] -
                                            sample.modes.frequency_hz[sample.names[k].index];
        fit.samples.push_back(std::move(sample));
    }
    const auto samples = samples_at(model, fit, now_mm);
    const auto over = forecast_over(model, fit, now, then, samples, then_mm, k_numbers);
    REQUIRE(over.size() == 3);
    for (std::size_t k = 0; k < 3; ++k) {
        const double mean = 0.5 * (shifts[0][k] + shifts[1][k]);
        const double apart = shifts[0][k] - shifts[1][k];
        CHECK(over[k].shift_hz == Approx(mean).epsilon(1e-4));
        CHECK(over[k].then_hz - over[k].now_hz == Approx(mean).epsilon(1e-4));
        // The fit's covariance is nothing: of three degrees of freedom one is the samples'. The
        // model's own error of a shift stands beside.
        const double own = alone[k].shift_sd_hz / alone[k].shift_hz * mean;
        CHECK(over[k].shift_sd_hz ==
              Approx(std::sqrt(apart * apart / 2.0 / 3.0 + own * own)).epsilon(1e-3));
    }
    // At another thickness the same plates have the modes that they have there.
    const auto moved = samples_at(model, fit, then_mm);
    for (std::size_t i = 0; i < 2; ++i)
        for (std::size_t k = 0; k < 3; ++k)
            CHECK(moved[i].modes.frequency_hz[moved[i].names[k].index] -
                      samples[i].modes.frequency_hz[samples[i].names[k].index] ==
                  Approx(shifts[i][k]).epsilon(1e-4));
}
