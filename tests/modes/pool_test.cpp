#include "modes/consensus.hpp"
#include "modes/pool.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <cmath>
#include <deque>

using namespace platewright;

namespace {

modes::Partial partial(double hz, double level_db = 0.0, double q = 60.0) {
    modes::Partial p;
    p.frequency_hz = hz;
    p.frequency_sd_hz = 0.02;
    p.q = q;
    p.q_sd = 0.5;
    p.level_db = level_db;
    return p;
}

modes::FittedTap tap_of(std::vector<modes::Partial> partials,
                        taps::Spot spot = taps::Spot::unknown) {
    return {nullptr, spot, std::move(partials)};
}

} // namespace

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

TEST_CASE("taps of one plate give its modes once, with the spread of the hold") {
    std::vector<modes::FittedTap> taps;
    for (double shift : {-0.001, 0.0, 0.001, 0.0005, -0.0005}) {
        taps.push_back(tap_of({partial(167 * (1 + shift), -6), partial(349 * (1 + shift))}));
    }
    const modes::Pooled pooled = modes::pool(taps);
    REQUIRE(pooled.modes.size() == 2);
    CHECK(pooled.modes[0].frequency_hz == Approx(167).epsilon(1e-4));
    CHECK(pooled.modes[0].taps == 5);
    CHECK(pooled.modes[1].spread_hz == Approx(349 * 0.00079).epsilon(0.01));
    CHECK(pooled.modes[1].level_db == 0.0);
    CHECK(pooled.modes[0].level_db == Approx(-6.0).margin(1e-9));
    CHECK(pooled.spread_permille == Approx(0.79).epsilon(0.01));
    CHECK(pooled.outlier == -1);
}

TEST_CASE("a noise that only one of many taps knows of is no mode, a strong mode is") {
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 5; ++i)
        taps.push_back(tap_of({partial(349)}));
    taps[2].partials.push_back(partial(500, -20));
    CHECK(modes::pool(taps).modes.size() == 1);
    taps[2].partials.back().level_db = -3;
    CHECK(modes::pool(taps).modes.size() == 2);
}

TEST_CASE("the spots tell where a mode answers") {
    using taps::Spot;
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 3; ++i) {
        taps.push_back(tap_of({partial(167, -12), partial(349, 0)}, Spot::centre));
        taps.push_back(tap_of({partial(167, 0), partial(349, -8)}, Spot::lower_end));
    }
    const modes::Pooled pooled = modes::pool(taps);
    REQUIRE(pooled.modes.size() == 2);
    for (const modes::SpotLevel& level : pooled.modes[0].spots) {
        CHECK(level.level_db == Approx(level.spot == Spot::centre ? -12.0 : 0.0).margin(1e-9));
        CHECK(level.taps == 3);
    }
}

TEST_CASE("a tap held differently is named as the one apart") {
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 6; ++i) {
        const double shift = 1.0 + 2e-4 * (i % 3);
        taps.push_back(tap_of({partial(167 * shift), partial(349 * shift), partial(403 * shift)}));
    }
    CHECK(modes::pool(taps).outlier == -1);
    for (modes::Partial& p : taps[4].partials)
        p.frequency_hz *= 1.006;
    CHECK(modes::pool(taps).outlier == 4);
}

TEST_CASE("taps that wander by half a percent stay one mode, and the spread says so") {
    std::vector<modes::FittedTap> taps;
    for (double shift : {-0.005, 0.0045, 0.0055, -0.0045, -0.004, 0.005})
        taps.push_back(tap_of({partial(349 * (1 + shift))}));
    const modes::Pooled pooled = modes::pool(taps);
    REQUIRE(pooled.modes.size() == 1);
    CHECK(pooled.spread_permille > 4.0);
}

TEST_CASE("nothing to pool is no error") { CHECK(modes::pool({}).modes.empty()); }

TEST_CASE("pooled intervals hold a simulated plate's modes") {
    synth::Normal normal(21);
    std::deque<taps::Tap> kept;
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 6; ++i) {
        const double hold = 1.0 + 0.001 * normal();
        const std::vector<synth::Ring> rings{{167 * hold, 55, 0.05, 1}, {349 * hold, 62, 0.1, 0}};
        kept.push_back(synth::tap(rings, normal, {.length_s = 0.6}));
        taps.push_back({&kept.back(), taps::Spot::unknown, modes::fit_tap(kept.back()).partials});
    }
    const modes::Pooled pooled = modes::pool(taps);
    REQUIRE(pooled.modes.size() == 2);
    // Five deviations at six taps: Student's t with 5 degrees leaves 0.4 % outside.
    CHECK(std::abs(pooled.modes[0].frequency_hz - 167) < 5 * pooled.modes[0].frequency_sd_hz);
    CHECK(std::abs(pooled.modes[1].frequency_hz - 349) < 5 * pooled.modes[1].frequency_sd_hz);
}
