#include "base/turning.hpp"
#include "support/catch.hpp"

#include <algorithm>

using platewright::base::Turning;

TEST_CASE("ten thousand turns lie on the circle where sine and cosine put them") {
    for (const double step_rad : {1e-4, -0.7, 3.1}) {
        Turning turning(0.3, step_rad);
        double worst = 0.0;
        for (int n = 0; n < 10000; ++n)
            worst = std::max(worst, std::abs(turning.next() - std::polar(1.0, 0.3 + step_rad * n)));
        // A rounding of 1.1e-16 in each part of each step, and as much in step_rad · n itself
        // (3.1e4 · 1.1e-16).
        CHECK(worst < 10000 * 4e-16);
    }
}
