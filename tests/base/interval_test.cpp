#include "base/interval.hpp"
#include "support/catch.hpp"

using namespace platewright::base;

// The normal and Student's distribution at 97.5 % in any printed table: 1.960; 12.706, 2.776, 2.042
// for 1, 4 and 30 degrees of freedom.
TEST_CASE(
    "what stands after a plus-minus is 1.96 deviations, more where few values tell the deviation") {
    CHECK(plus_minus(1.0) == Approx(1.960).margin(5e-4));
    CHECK(plus_minus(2.5) == Approx(2.5 * 1.960).margin(2e-3));
    CHECK(plus_minus(1.0) == Approx(normal_quantile(0.5 * (1.0 + k_coverage))).margin(1e-9));
    CHECK(plus_minus(1.0, 1.0) == Approx(12.706).margin(1e-3));
    CHECK(plus_minus(1.0, 4.0) == Approx(2.776).margin(1e-3));
    CHECK(plus_minus(1.0, 30.0) == Approx(2.042).margin(1e-3));
}
