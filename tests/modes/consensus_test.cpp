#include "modes/pool/consensus.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <cmath>

using namespace platewright;

// By hand: 4 seen with 2 degrees of freedom and 1 held before as much as 6 tell: (8 + 6) / 8.
TEST_CASE("a variance seen of little is drawn to the usual one, of much it stands for itself") {
    CHECK(modes::moderated_variance(4.0, 2.0, 1.0, 6.0) == Approx(1.75));
    CHECK(modes::moderated_variance(4.0, 2.0, 1.0, 0.0) == 4.0);
    CHECK(modes::moderated_variance(0.0, 0.0, 1.0, 3.0) == 1.0);
    CHECK(modes::moderated_variance(4.0, 1e6, 1.0, 2.0) == Approx(4.0).epsilon(1e-5));
}

TEST_CASE("a consensus of equal deviations without scatter is the mean with its deviation") {
    const std::vector<double> values{99.0, 101.0, 100.0, 100.0};
    const std::vector<double> sds(4, 10.0);
    const modes::Consensus c = modes::consensus(values, sds);
    CHECK(c.value == Approx(100.0));
    CHECK(c.between == 0.0);
    // Hartung & Knapp: the scatter's own standard error, s / √n.
    CHECK(c.sd == Approx(std::sqrt(2.0 / 3.0) / 2.0));
}

TEST_CASE("where scatter outweighs the fits' deviations all taps count alike") {
    const std::vector<double> values{98.0, 102.0, 99.0, 101.0};
    const std::vector<double> sds{1e-4, 1e-2, 1e-3, 1e-4};
    const modes::Consensus c = modes::consensus(values, sds);
    CHECK(c.value == Approx(100.0).margin(1e-3));
    CHECK(c.between == Approx(std::sqrt(10.0 / 3.0)).epsilon(1e-3));
    CHECK(c.sd == Approx(std::sqrt(10.0 / 3.0) / 2.0).epsilon(1e-3));
}

TEST_CASE("one value stands for itself, and wrong calls are refused") {
    CHECK(modes::consensus(std::vector{5.0}, std::vector{0.2}).sd == 0.2);
    CHECK_THROWS_AS(modes::consensus({}, {}), std::invalid_argument);
    CHECK_THROWS_AS(modes::consensus(std::vector{1.0}, std::vector{0.0}), std::invalid_argument);
}

TEST_CASE("what quantities alike scatter is told by all of them, whatever one of them does") {
    synth::Normal normal(90);
    std::vector<modes::Measured> all;
    for (int k = 0; k < 40; ++k) {
        modes::Measured one{.values = {}, .sds = {}, .unit = 100.0 * (1 + k % 5)};
        for (int i = 0; i < 4; ++i) {
            one.sds.push_back(0.001 * one.unit);
            one.values.push_back(one.unit * (1 + 0.003 * normal() + 0.001 * normal()));
        }
        all.push_back(one);
    }
    CHECK(modes::between_of(all) == Approx(0.003).epsilon(0.15));
    all[0].values[0] *= 1.5;
    CHECK(modes::between_of(all) == Approx(0.003).epsilon(0.2));
    for (modes::Measured& one : all)
        for (double& sd : one.sds)
            sd = 0.01 * one.unit;
    CHECK(modes::between_of(all) == 0.0);
    CHECK(modes::between_of({}) == 0.0);
}
