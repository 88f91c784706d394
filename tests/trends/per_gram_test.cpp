#include "support/catch.hpp"
#include "trends/decision/per_gram.hpp"

#include <random>

using namespace platewright;
using trends::grams_to_chance;
using trends::Margin;
using trends::PerGram;

TEST_CASE("two estimates are joined by their weights, and widened where they disagree") {
    // By hand: weights 1 and 1/4; then 10 and 14, each +-1: chi-square 8 over one degree of freedom
    // (the scale factor of R. T. Birge, Phys. Rev. 40, 1932, 207).
    const PerGram alike = trends::joined({4.0, 1.0}, {5.0, 2.0});
    CHECK(alike.hz == Approx(4.2));
    CHECK(alike.sd_hz == Approx(std::sqrt(0.8)));
    const PerGram apart = trends::joined({10.0, 1.0}, {14.0, 1.0});
    CHECK(apart.hz == Approx(12.0));
    CHECK(apart.sd_hz == Approx(2.0));
}

TEST_CASE("past grams tell less surely what one does elsewhere") {
    const PerGram there = trends::elsewhere({4.0, 0.1});
    CHECK(there.hz == 4.0);
    CHECK(there.sd_hz > 0.8); // a fifth of it at the least: between passes of a plate more differs
    CHECK(there.sd_hz < 3.0);
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
