#include "modes/pool/assignment.hpp"
#include "modes/pool/match.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <numeric>

using namespace platewright;
using modes::Mode;

namespace {

Mode mode_at(double hz, double q = 60) {
    Mode mode;
    mode.frequency_hz = hz;
    mode.q = q;
    return mode;
}

double paid(const Eigen::MatrixXd& cost, const std::vector<long>& columns) {
    double sum = 0;
    for (std::size_t r = 0; r < columns.size(); ++r) {
        sum += cost(static_cast<Eigen::Index>(r), columns[r]);
    }
    return sum;
}

/// All ways tried: the definition of the cheapest.
double cheapest_by_trial(const Eigen::MatrixXd& cost) {
    std::vector<long> order(static_cast<std::size_t>(cost.cols()));
    std::iota(order.begin(), order.end(), 0L);
    double best = 1e300;
    do {
        best = std::min(best, paid(cost, {order.begin(), order.begin() + cost.rows()}));
    } while (std::next_permutation(order.begin(), order.end()));
    return best;
}

} // namespace

TEST_CASE("an assignment is as cheap as the best of all ways") {
    std::srand(5); // Eigen's Random draws from it: the same matrices each run
    for (int trial = 0; trial < 50; ++trial) {
        const Eigen::MatrixXd cost = Eigen::MatrixXd::Random(4, 6);
        const auto columns = modes::cheapest_assignment(cost);
        CHECK(paid(cost, columns) == Approx(cheapest_by_trial(cost)).margin(1e-12));
    }
}

TEST_CASE("modes are paired across a shift of all by what the mass change leads to expect") {
    const std::vector<Mode> a{mode_at(116), mode_at(167), mode_at(222), mode_at(230)};
    const std::vector<Mode> b{mode_at(116 * 0.96), mode_at(167 * 0.96), mode_at(222 * 0.96),
                              mode_at(230 * 0.96)};
    const auto pairs = modes::match(a, b, {.frequency_ratio = 0.03, .expected_ratio = 0.96});
    REQUIRE(pairs.size() == 4);
    for (const auto& pair : pairs) {
        CHECK(pair.a == pair.b);
        CHECK(pair.cost == Approx(0.0).margin(1e-9));
    }
}

TEST_CASE("a mode that appears is left alone rather than paired with a stranger") {
    const std::vector<Mode> a{mode_at(116), mode_at(349)};
    const std::vector<Mode> b{mode_at(116.5), mode_at(250), mode_at(348)};
    const auto pairs = modes::match(a, b);
    REQUIRE(pairs.size() == 2);
    CHECK(pairs[1].b == 2);
}

TEST_CASE("two modes that crossed are told by where on the plate they answer") {
    using taps::Spot;
    Mode a1 = mode_at(222);
    a1.spots = {{Spot::centre, 0, 1, 3}, {Spot::lower_end, -18, 1, 3}};
    Mode a2 = mode_at(230);
    a2.spots = {{Spot::centre, -18, 1, 3}, {Spot::lower_end, 0, 1, 3}};
    Mode b1 = a1;
    b1.frequency_hz = 228;
    Mode b2 = a2;
    b2.frequency_hz = 224;
    const auto pairs = modes::match(std::vector{a1, a2}, std::vector{b2, b1});
    REQUIRE(pairs.size() == 2);
    CHECK(pairs[0].b == 1);
    CHECK(pairs[1].b == 0);
}

TEST_CASE("beyond a gate nothing is paired, nor with an empty side") {
    CHECK(modes::match(std::vector{mode_at(100)}, std::vector{mode_at(110)}).empty());
    CHECK(modes::match(std::vector{mode_at(100, 20)}, std::vector{mode_at(100, 90)}).empty());
    CHECK(modes::match(std::vector<Mode>{}, std::vector{mode_at(110)}).empty());
}
