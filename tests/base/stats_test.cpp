#include "base/stats.hpp"
#include "support/catch.hpp"

#include <array>
#include <cmath>
#include <numbers>

using namespace platewright::base;

// Tables of the standard normal and of Student's t distribution, as printed in any handbook of
// statistics (for instance NIST/SEMATECH e-Handbook, section 1.3.6.7; values from memory).
TEST_CASE("quantiles agree with the printed tables") {
    CHECK(normal_quantile(0.975) == Approx(1.959964).margin(1e-6));
    CHECK(normal_quantile(0.05) == Approx(-1.644854).margin(1e-6));
    CHECK(student_quantile(0.975, 1) == Approx(12.706).margin(1e-3));
    CHECK(student_quantile(0.975, 4) == Approx(2.776).margin(1e-3));
    CHECK(student_quantile(0.975, 30) == Approx(2.042).margin(1e-3));
    CHECK(student_quantile(0.025, 9) == Approx(-2.262).margin(1e-3));
    CHECK(student_quantile(0.9, 1e7) == Approx(normal_quantile(0.9)).margin(1e-5));
}

TEST_CASE("mean, spread and their robust kin on numbers done by hand") {
    const std::array values{2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0};
    CHECK(mean(values) == Approx(5.0));
    CHECK(standard_deviation(values) == Approx(2.13809).margin(1e-5));
    CHECK(median(values) == Approx(4.5));
    CHECK(robust_deviation(std::array{1.0, 1.0, 2.0, 2.0, 4.0, 6.0, 9.0}) == Approx(1.4826));
    CHECK(standard_deviation(std::array{3.0}) == 0.0);
    CHECK_THROWS_AS(median({}), std::invalid_argument);
}

// Γ(n) = (n − 1)!, Γ(1/2) = √π (any handbook, for instance Abramowitz and Stegun 6.1.6 and 6.1.8;
// from memory).
TEST_CASE("the gamma function's logarithm is that of factorials, and of a half's root of pi") {
    double factorial = 1;
    for (int n = 1; n < 20; factorial *= n++)
        CHECK(log_gamma(n) == Approx(std::log(factorial)).margin(1e-12));
    CHECK(log_gamma(0.5) == Approx(0.5 * std::log(std::numbers::pi)).margin(1e-12));
    CHECK_THROWS_AS(log_gamma(0.0), std::invalid_argument);
}

TEST_CASE("Student's probability undoes its quantile, and for one degree is Cauchy's arctangent") {
    for (const double freedom : {1.0, 2.5, 4.0, 30.0})
        for (const double probability : {0.001, 0.1, 0.5, 0.8, 0.975})
            CHECK(student_below(student_quantile(probability, freedom), freedom) ==
                  Approx(probability).margin(1e-8));
    for (const double t : {-12.7, -1.0, 0.0, 0.3, 5.0})
        CHECK(student_below(t, 1.0) == Approx(0.5 + std::atan(t) / std::numbers::pi).margin(1e-10));
    CHECK_THROWS_AS(student_below(1.0, 0.0), std::invalid_argument);
}
