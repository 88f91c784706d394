#include "support/catch.hpp"
#include "trends/decision/pass_rule.hpp"

#include <random>

using namespace platewright;
using trends::grams_to_chance;
using trends::Margin;
using trends::PerGram;

TEST_CASE("past grams count beside the model's word on the place, less surely than they say") {
    // By hand, 0.35 of 8 Hz being what places differ: variances 7.84 + 0.16 and 8, so halves.
    const PerGram both = trends::joined({9.0, std::sqrt(8.0)}, {8.0, 0.4});
    CHECK(both.hz == Approx(8.5));
    CHECK(both.sd_hz == Approx(2.0));
}

TEST_CASE("past grams that did less came off places that tell less: the model's word stands") {
    // Case 2001 of tests/speed/bench_decides.cpp: the model said 6.55 +- 1.2 Hz, the past 2.07 +-
    // 0.49, and 7.3 happened; joined as of equal standing they gave 3.6 +- 2.2.
    const PerGram word{6.55, 1.2};
    const PerGram both = trends::joined(word, {2.07, 0.49});
    CHECK(both.hz > 6.0);
    CHECK(both.hz < word.hz);
    CHECK(both.sd_hz < word.sd_hz);
    CHECK(both.sd_hz > 0.9 * word.sd_hz);
}

TEST_CASE("past grams that did more than a place explains make both doubtful") {
    // By hand: variances 1 and 3.5 squared, 5 Hz apart: chi-square 25 / 13.25.
    const PerGram both = trends::joined({5.0, 1.0}, {10.0, 0.0});
    CHECK(both.hz == Approx((5.0 + 10.0 / 12.25) / (1.0 + 1.0 / 12.25)));
    CHECK(both.sd_hz == Approx(std::sqrt(25.0 / 13.25 / (1.0 + 1.0 / 12.25))));
    CHECK(both.sd_hz > 1.0); // wider than the model alone
}

TEST_CASE("the grams to a chance are those that this share of drawn plates needs") {
    const Margin margin{360.0, 1.2, 349.0};
    const PerGram fall{3.5, 0.8};
    std::mt19937 random(5);
    std::normal_distribution<double> normal;
    for (const double chance : {0.025, 0.1, 0.5, 0.9}) {
        const auto grams = grams_to_chance(margin, fall, chance);
        REQUIRE(grams);
        CHECK(trends::chance_below(margin, fall, *grams) == Approx(chance).margin(1e-9));
        int below = 0;
        constexpr int k_drawn = 200'000;
        for (int i = 0; i < k_drawn; ++i) {
            const double now = margin.now_hz + margin.sd_hz * normal(random);
            below += now - (fall.hz + fall.sd_hz * normal(random)) * *grams < margin.least_hz;
        }
        CHECK(static_cast<double>(below) / k_drawn == Approx(chance).margin(0.004));
    }
}

TEST_CASE("no gram is safe at the goal, and none leads there where the mode hardly moves") {
    CHECK(grams_to_chance({350.0, 1.2, 349.0}, {3.5, 0.8}, 0.1) == 0.0);
    CHECK_FALSE(grams_to_chance({360.0, 1.2, 349.0}, {0.5, 0.8}, 0.975));
    CHECK_FALSE(grams_to_chance({360.0, 1.2, 349.0}, {-2.0, 0.1}, 0.5));
    // What may fall steeply, though it is not expected to, is not safe without limit.
    CHECK(grams_to_chance({360.0, 1.2, 349.0}, {0.0, 3.0}, 0.1).value() < 4.0);
}

TEST_CASE("with more wood than the model would take at a place a gram does less, to three times") {
    const trends::FadingPerGram fall{{4.0, 1.0}, 2.0, 0.1};
    CHECK(fall.over(2.0).hz == Approx(4.0));
    CHECK(fall.over(4.0).hz == Approx(3.6)); // a tenth less at twice
    CHECK(fall.over(4.0).sd_hz == Approx(0.9));
    CHECK(fall.over(1.0).hz == Approx(4.2));
    CHECK(fall.over(6.0).hz == Approx(3.2));
    CHECK(fall.over(60.0).hz == Approx(3.2)); // and no line is drawn further
}
