#include "support/catch.hpp"
#include "taps/judge/prediction.hpp"

#include <algorithm>
#include <cmath>
#include <random>

using platewright::taps::burg;
using platewright::taps::innovation;

namespace {

/// The method as it is defined: the errors of both directions, order by order.
std::vector<double> burg_as_defined(const std::vector<float>& samples, std::size_t order) {
    std::vector<double> forward(samples.begin(), samples.end()), backward = forward, a;
    for (std::size_t m = 0; m < order; ++m) {
        double together = 0, energy = 0;
        for (std::size_t n = m + 1; n < samples.size(); ++n) {
            together += forward[n] * backward[n - 1];
            energy += forward[n] * forward[n] + backward[n - 1] * backward[n - 1];
        }
        const double k = -2 * together / energy;
        for (std::size_t n = samples.size() - 1; n > m; --n) {
            const double f = forward[n], b = backward[n - 1];
            forward[n] = f + k * b;
            backward[n] = b + k * f;
        }
        const std::vector<double> before = a;
        a.push_back(k);
        for (std::size_t i = 0; i < before.size(); ++i)
            a[i] += k * before[before.size() - 1 - i];
    }
    return a;
}

std::vector<float> ring_in_noise(std::size_t count, double noise) {
    std::mt19937 generator(11);
    std::normal_distribution<double> normal;
    std::vector<float> samples;
    for (std::size_t n = 0; n < count; ++n) {
        const auto t = static_cast<double>(n);
        const double ring = std::exp(-0.001 * t) *
                            (std::sin(0.1 * t) + std::sin(0.37 * t + 1) + 0.3 * std::sin(0.7 * t));
        samples.push_back(static_cast<float>(ring + noise * normal(generator)));
    }
    return samples;
}

} // namespace

TEST_CASE("the predictor is Burg's, 20 to 100 dB over the noise") {
    for (const double noise : {1e-1, 1e-3, 1e-5}) {
        const auto samples = ring_in_noise(4800, noise);
        const auto found = burg(samples, 48), wanted = burg_as_defined(samples, 48);
        REQUIRE(found.size() == wanted.size());
        for (std::size_t i = 0; i < wanted.size(); ++i)
            CHECK(found[i] == Approx(wanted[i]).margin(1e-5));
    }
}

TEST_CASE("an autoregressive process gives its coefficients back, and its innovation") {
    // x[n] = 1.6·x[n−1] − 0.9·x[n−2] + e[n], e of unit variance.
    std::mt19937 generator(12);
    std::normal_distribution<double> normal;
    std::vector<float> x{0.0F, 0.0F};
    for (std::size_t n = 2; n < 40000; ++n)
        x.push_back(static_cast<float>(1.6 * static_cast<double>(x[n - 1]) -
                                       0.9 * static_cast<double>(x[n - 2]) + normal(generator)));
    const auto a = burg(x, 2);
    CHECK(a.at(0) == Approx(-1.6).margin(0.01));
    CHECK(a.at(1) == Approx(0.9).margin(0.01));
    double energy = 0;
    for (const double e : innovation(x, a))
        energy += e * e;
    CHECK(energy / 39998 == Approx(1.0).epsilon(0.03));
}

TEST_CASE("silence leaves nothing to foresee, and too few samples are refused") {
    CHECK(burg(std::vector<float>(100, 0.0F), 8).size() <= 8);
    const auto left =
        innovation(std::vector<float>(100, 0.0F), burg(std::vector<float>(100, 0.0F), 8));
    CHECK(std::all_of(left.begin(), left.end(), [](double e) { return e == 0; }));
    CHECK_THROWS_AS(burg(std::vector<float>(8, 1.0F), 8), std::invalid_argument);
}
