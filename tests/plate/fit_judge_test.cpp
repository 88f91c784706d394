#include "plate/fit/fit_inside.hpp"
#include "support/catch.hpp"

#include <random>

using namespace platewright;
using namespace platewright::plate;

namespace {

/// A prior of one for each unknown, and what is left of it where taps told so much of so many of
/// the arch's.
struct Told {
    FitMatrix prior = FitMatrix::Identity(), posterior = FitMatrix::Identity();
    int unknowns;
    double left;

    Told(int n, double variance_left) : unknowns(n), left(variance_left) {
        for (int k = 0; k < n; ++k)
            posterior(k_first_arch_unknown + k, k_first_arch_unknown + k) = left;
    }
    /// The share of fits that are called implausible, of plates that are as the prior has them but
    /// for this factor.
    double called_far_off(double factor) const {
        constexpr int k_plates = 4000;
        std::mt19937 random(11);
        std::normal_distribution<double> normal;
        int far = 0;
        for (int plate = 0; plate < k_plates; ++plate) {
            FitVector fitted = FitVector::Zero(); // varies by what was told: the prior's less that
            for (int k = 0; k < unknowns; ++k)
                fitted[k_first_arch_unknown + k] = factor * std::sqrt(1.0 - left) * normal(random);
            far += is_far_off(fitted, prior, posterior);
        }
        return static_cast<double>(far) / k_plates;
    }
};

} // namespace

TEST_CASE("the more the taps tell of an arch, the farther it may be pulled from what is usual") {
    // A normal deviate exceeds 2.5 in 0.62 % (the normal distribution's table).
    for (const auto& [unknowns, left] : {std::pair{1, 0.2}, {3, 0.5}, {8, 0.1}, {30, 0.6}}) {
        const Told told(unknowns, left);
        INFO(unknowns << " unknowns, " << left << " of their variance left");
        const double far = told.called_far_off(1.0);
        CHECK(far > 0.003);
        CHECK(far < 0.012);
        CHECK(told.called_far_off(3.0) > (unknowns == 1 ? 0.3 : 0.65));
    }
    CHECK(Told(0, 1.0).called_far_off(1.0) == 0.0); // nothing was told of it
}

TEST_CASE("a constant that is pulled farther than three of its deviations is not believed") {
    const FitMatrix prior = 0.04 * FitMatrix::Identity();
    for (int k = 0; k < k_first_arch_unknown; ++k)
        for (const double side : {-1.0, 1.0}) {
            FitVector fitted = FitVector::Zero();
            fitted[k] = side * 0.4;
            CHECK_FALSE(is_far_off(fitted, prior, prior));
            fitted[k] = side * 0.6;
            CHECK(is_far_off(fitted, prior, prior));
        }
}
