#include "base/loudest.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <random>
#include <vector>

using platewright::base::loudest;

TEST_CASE("the loudest of many samples is the largest of their magnitudes") {
    std::mt19937 random(1);
    std::normal_distribution<float> normal;
    for (std::size_t count : {1U, 3U, 17U, 1000U}) {
        std::vector<float> samples(count);
        std::generate(samples.begin(), samples.end(), [&] { return normal(random); });
        float most = 0;
        for (const float x : samples)
            most = std::fmax(most, std::fabs(x));
        CHECK(loudest(samples) == most);
    }
    CHECK(loudest({}) == 0.0F);
    CHECK(loudest(std::vector{-0.0F, 1e-42F, -2e-42F}) == 2e-42F); // subnormal
}

TEST_CASE("one sample that is no finite number shows in the loudest") {
    for (const float bad :
         {std::numeric_limits<float>::infinity(), -std::numeric_limits<float>::infinity(),
          std::numeric_limits<float>::quiet_NaN(), -std::numeric_limits<float>::quiet_NaN()}) {
        std::vector<float> samples(100, std::numeric_limits<float>::max());
        CHECK(std::isfinite(loudest(samples)));
        samples[70] = bad;
        CHECK_FALSE(std::isfinite(loudest(samples)));
    }
}
