#include "modes/pool/consensus.hpp"
#include "modes/pool/pool.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <cmath>
#include <ctime>
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

TEST_CASE("where a spot's taps do not show a mode, it lies under the weakest that they show") {
    using taps::Spot;
    const std::vector<modes::FittedTap> taps{
        tap_of({partial(167, -4), partial(349, 0)}, Spot::centre),
        tap_of({partial(349, 0), partial(612, -20)}, Spot::lower_end)};
    const modes::Pooled pooled = modes::pool(taps);
    REQUIRE(pooled.modes.size() == 3);
    REQUIRE(pooled.modes[0].spots.size() == 2);
    for (const modes::SpotLevel& level : pooled.modes[0].spots)
        if (level.spot == Spot::centre) {
            CHECK(level.level_db == 0);
        } else {
            CHECK(level.level_db < -20 + 4); // of the centre's
            CHECK(level.level_db > -20 + 4 - 6);
        }
}

TEST_CASE(
    "a single tap's mode is sure to a cent, to a twelfth of its half width, and Q to a fifth") {
    const auto mode_of = [](double q) {
        return modes::pool(std::vector{tap_of({partial(500, 0, q)})}).modes.front();
    };
    // Narrow as a bar of metal has it: one cent is 0.058 %.
    const modes::Mode narrow = mode_of(3000);
    CHECK(1200 * std::log2(1 + narrow.frequency_sd_hz / 500) == Approx(1).epsilon(0.05));
    CHECK(1.96 * narrow.q_sd == Approx(0.2 * 3000).epsilon(0.05));
    const modes::Mode wide = mode_of(10);
    CHECK(1.96 * wide.frequency_sd_hz == Approx(500.0 / (2 * 10) / 12).epsilon(0.1));
    // Two taps show how far they lie apart, and nothing is added.
    const modes::Mode twice =
        modes::pool(std::vector{tap_of({partial(500, 0, 10)}), tap_of({partial(500, 0, 10)})})
            .modes.front();
    CHECK(twice.frequency_sd_hz < 0.1);
}

TEST_CASE("the spread is that of what carries the sound and was found more than once") {
    std::vector<modes::FittedTap> taps;
    for (const double shift : {-1e-3, 1e-3, -1e-3, 1e-3})
        taps.push_back(tap_of({partial(349 * (1 + shift)), partial(520 * (1 + 4 * shift), -34),
                               partial(611 * (1 + 4 * shift), -36)}));
    const double of_strong = std::sqrt(4.0 / 3); // of four values, permille
    CHECK(modes::pool(taps).spread_permille == Approx(of_strong).epsilon(1e-3));
    for (modes::FittedTap& tap : taps)
        for (modes::Partial& p : tap.partials)
            p.level_db = 0;
    CHECK(modes::pool(taps).spread_permille == Approx(4 * of_strong).epsilon(1e-3));
    CHECK(modes::pool(std::span{taps}.first(1)).spread_permille == 0);
}

TEST_CASE("taps are in a room that answers where their Q is surer by the noise than it says") {
    // Of a decaying sinusoid in noise alone the deviation of Q is that of ln a, times the root of
    // two (Fisher's information): 0.1 dB of the level leave 1.6 % of Q.
    const auto in_room = [](double q_sd, double level_sd_db) {
        modes::Partial p = partial(349);
        p.q_sd = q_sd * p.q;
        p.level_sd_db = level_sd_db;
        return modes::is_in_room(std::vector{tap_of({p, p, p})});
    };
    CHECK_FALSE(in_room(0.016, 0.1));
    CHECK_FALSE(in_room(0.16, 1));
    CHECK(in_room(0.1, 0.1));
    CHECK(in_room(0.25, 1));
    CHECK_FALSE(modes::is_in_room({}));
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

TEST_CASE("a tap that is far too sure of itself does not make its mode so") {
    // One of three says 2 mHz where the hold moves all modes by a tenth of a percent.
    std::vector<modes::FittedTap> taps;
    synth::Normal normal(91);
    for (int t = 0; t < 3; ++t) {
        std::vector<modes::Partial> partials;
        for (const double hz : {95.0, 164.6, 231.0, 349.0, 431.0, 520.0, 611.0})
            partials.push_back(partial(hz * (1 + 0.001 * normal())));
        partials[1].frequency_sd_hz = t == 1 ? 0.002 : 0.2;
        taps.push_back(tap_of(partials));
    }
    const modes::Mode mode = modes::pool(taps).modes.at(1);
    CHECK(mode.frequency_hz == Approx(164.6).epsilon(0.003));
    const modes::Interval hz = modes::interval(mode.frequency_hz, mode.frequency_sd_hz, mode.taps);
    CHECK(hz.high - hz.low > 0.2); // two deviations of the hold's mean, each side
    CHECK(hz.high - hz.low < 2.0);
}

TEST_CASE("partials a tenth apart are two modes, however unsure one of them is") {
    std::vector<modes::FittedTap> taps{tap_of({partial(303.0)}), tap_of({partial(337.0)})};
    taps[1].partials[0].frequency_sd_hz = 15;
    CHECK(modes::pool(taps).modes.size() == 2);
    taps[1].partials[0].frequency_hz = 308;
    CHECK(modes::pool(taps).modes.size() == 1);
}

TEST_CASE("of good taps hardly one is thrown out, however few: the intervals hold") {
    // Normal values with the deviations they say: the pooled one is then exactly Student's (Hartung
    // & Knapp). 4000 sets leave 0.35 % of chance; a threshold that does not know n gave 87 to 90 %
    // at five taps.
    for (const int count : {2, 3, 4, 5, 6, 7, 8}) {
        synth::Normal normal(static_cast<std::uint32_t>(70 + count));
        int held = 0, all = 0;
        for (int set = 0; set < 4000; ++set) {
            std::vector<modes::FittedTap> taps;
            for (int i = 0; i < count; ++i)
                taps.push_back(tap_of({partial(349 + 0.3 * normal())}));
            const modes::Mode mode = modes::pool(taps).modes.front();
            const modes::Interval hz =
                modes::interval(mode.frequency_hz, mode.frequency_sd_hz, mode.taps);
            held += hz.low <= 349 && 349 <= hz.high ? 1 : 0;
            ++all;
        }
        CAPTURE(count, held);
        CHECK(held >= 0.935 * all);
        CHECK(held <= 0.965 * all);
    }
}

TEST_CASE("a stray is left out all the same, and of normal values one set in a hundred loses one") {
    std::vector<modes::FittedTap> taps;
    for (const double apart : {-0.1, 0.1, -0.15, 0.12, 0.05, 3.2})
        taps.push_back(tap_of({partial(349 + apart)}));
    CHECK(std::abs(modes::pool(taps).modes.front().frequency_hz - 349) < 0.1);
    for (const int count : {5, 6, 9, 12, 20}) {
        synth::Normal normal(static_cast<std::uint32_t>(90 + count));
        int lost = 0;
        for (int set = 0; set < 3000; ++set) {
            std::vector<modes::FittedTap> good;
            std::vector<double> values;
            for (int i = 0; i < count; ++i) {
                values.push_back(349 + 0.5 * normal());
                good.push_back(tap_of({partial(values.back())}));
            }
            const double spread = modes::pool(good).modes.front().spread_hz;
            double mean = 0, square = 0;
            for (const double x : values)
                mean += x / count;
            for (const double x : values)
                square += (x - mean) * (x - mean) / (count - 1);
            lost += std::abs(spread - std::sqrt(square)) > 1e-9 ? 1 : 0;
        }
        CAPTURE(count, lost);
        CHECK(lost <= 55); // 30 expected, and four and a half deviations
        CHECK(lost >= 6);
    }
}

TEST_CASE("an interval is Student's for taps, the normal one for a single tap") {
    // Student's t, 97.5 %: 12.706 with one degree, 2.776 with four (any table); the normal quantile
    // is 1.960.
    CHECK(modes::interval(100, 1, 2).high == Approx(112.706).epsilon(1e-5));
    CHECK(modes::interval(100, 1, 5).low == Approx(97.224).epsilon(1e-5));
    CHECK(modes::interval(100, 1, 1).high == Approx(101.960).epsilon(1e-5));
}

TEST_CASE(
    "the hammer's thump is no mode, nor what a few of many taps hardly know, nor a mode's shadow") {
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 12; ++i)
        taps.push_back(tap_of({partial(116, -8, 50), partial(349, 0, 65)}));
    for (const std::size_t k : {3U, 8U})
        taps[k].partials.push_back(partial(230, -45, 60));
    for (modes::FittedTap& tap : taps)
        tap.partials.push_back(partial(171, -44, 9));
    // A twist of Q 30 whose partial strays in two taps of four by more than the hold allows.
    for (std::size_t k = 0; k < 12; ++k)
        taps[k].partials.push_back(partial(k % 3 == 0 ? 46.1 : 47.2, k % 3 == 0 ? -22 : -10, 30));
    const auto found = modes::pool(taps).modes;
    REQUIRE(found.size() == 3);
    CHECK(found[0].frequency_hz == Approx(47.2));
    CHECK(found[1].frequency_hz == Approx(116));
    CHECK(found[2].frequency_hz == Approx(349));
    // A held plate whose modes all die so soon keeps them, and a pair found together stays a pair.
    std::vector<modes::FittedTap> held;
    for (int i = 0; i < 4; ++i)
        held.push_back(tap_of({partial(116, 0, 10), partial(349, -32, 9), partial(600, -3, 11),
                               partial(606, -12, 11)}));
    CHECK(modes::pool(held).modes.size() == 4);
}

TEST_CASE("what is gone in a few cycles is a mode where the taps find it again, however strong") {
    // A mode of Q 60 may show in one tap of seven, at one spot of the plate; the thump of a hand
    // does too.
    std::vector<modes::FittedTap> taps;
    for (int i = 0; i < 7; ++i)
        taps.push_back(tap_of({partial(116, -8, 22), partial(349, 0, 24)}));
    taps[2].partials.push_back(partial(58, -6, 8));
    taps[4].partials.push_back(partial(171, -6, 60));
    CHECK(modes::pool(taps).modes.size() == 3);
    for (const std::size_t t : {3U, 4U, 5U})
        taps[t].partials.push_back(partial(58, -6, 8));
    CHECK(modes::pool(taps).modes.size() == 4);
}

TEST_CASE(
    "of one tap or two what dies far sooner than the rest is no mode, and of many it is where "
    "half of them have it") {
    const auto listed = [](std::size_t count, std::size_t with, double q) {
        std::vector<modes::FittedTap> taps;
        for (std::size_t t = 0; t < count; ++t) {
            taps.push_back(tap_of({partial(116, -8, 50), partial(349, 0, 65)}));
            if (t < with)
                taps[t].partials.push_back(partial(171, -12, q));
        }
        return modes::pool(taps).modes.size() == 3;
    };
    CHECK_FALSE(listed(1, 1, 10));
    CHECK_FALSE(listed(2, 2, 10));
    CHECK(listed(1, 1, 25));
    CHECK_FALSE(listed(7, 3, 10));
    CHECK(listed(7, 4, 10));
    CHECK(listed(7, 3, 25));
}

TEST_CASE(
    "two modes that one pole stands for are both within its interval, of a tap and of a session") {
    for (const double apart_hz : {1.0, 2.0, 3.0, 4.0}) {
        int single = 0, pooled = 0, sessions = 0, taps_read = 0;
        for (std::uint32_t seed = 1; seed <= 12; ++seed) {
            synth::Normal normal(seed);
            std::deque<taps::Tap> kept;
            std::vector<modes::FittedTap> taps;
            const auto both_in = [&](double hz, double sd, int count) {
                const modes::Interval i = modes::interval(hz, sd, count);
                return i.low <= 355 && 355 + apart_hz <= i.high;
            };
            for (int i = 0; i < 4; ++i) {
                const std::vector<synth::Ring> rings{{166, 55, 0.1, 6.28 * normal.uniform()},
                                                     {355, 60, 0.1, 6.28 * normal.uniform()},
                                                     {355 + apart_hz, 60,
                                                      0.1 * std::pow(10.0, -0.3 * normal.uniform()),
                                                      6.28 * normal.uniform()}};
                kept.push_back(synth::tap(rings, normal, {.length_s = 0.8, .noise = 1e-4}));
                taps.push_back(
                    {&kept.back(), taps::Spot::unknown, modes::fit_tap(kept.back()).partials});
                int near = 0;
                bool told = false;
                for (const modes::Partial& p : taps.back().partials)
                    if (std::abs(p.frequency_hz - 357) < 8) {
                        ++near;
                        told = both_in(p.frequency_hz, p.frequency_sd_hz, 1);
                    }
                single += near != 1 || told ? 1 : 0;
                ++taps_read;
            }
            const modes::Pooled all = modes::pool(taps);
            int near = 0;
            bool told = false;
            for (const modes::Mode& m : all.modes)
                if (std::abs(m.frequency_hz - 357) < 8) {
                    ++near;
                    told = both_in(m.frequency_hz, m.frequency_sd_hz, m.taps);
                }
            pooled += near != 1 || told ? 1 : 0;
            ++sessions;
        }
        CAPTURE(apart_hz, single, taps_read, pooled, sessions);
        // A hertz apart one pole may tell all there is: then no two are known of.
        CHECK(single >= (apart_hz < 1.5 ? 0.75 : 0.9) * taps_read);
        CHECK(pooled >= 0.9 * sessions);
    }
}

TEST_CASE("what a single tap can't tell from one mode is within its interval, of narrow modes and "
          "of wide ones") {
    // Pairs of equals a twelfth of their half width apart, each with its own phase: 0.25 Hz at Q
    // 60, 1 Hz at Q 15.
    for (const double q : {15.0, 60.0}) {
        const double apart_hz = 355 / q / 2 / 12;
        int held = 0, sessions = 0;
        double widest_hz = 0;
        for (std::uint32_t seed = 1; seed <= 60; ++seed, ++sessions) {
            synth::Normal normal(seed);
            const std::vector<synth::Ring> rings{{355, q, 0.1, 4 * normal.uniform()},
                                                 {355 + apart_hz, q, 0.07, 4 * normal.uniform()}};
            const taps::Tap tap = synth::tap(rings, normal, {.length_s = 0.5, .noise = 1e-4});
            const std::vector<modes::FittedTap> one{
                {&tap, taps::Spot::unknown, modes::fit_tap(tap).partials}};
            for (const modes::Mode& m : modes::pool(one).modes)
                if (std::abs(m.frequency_hz - 355) < 4) {
                    const modes::Interval i = modes::interval(m.frequency_hz, m.frequency_sd_hz, 1);
                    held += i.low <= 355 && 355 <= i.high ? 1 : 0;
                    widest_hz = std::max(widest_hz, m.frequency_sd_hz);
                }
        }
        CAPTURE(q, held, sessions, widest_hz);
        CHECK(held >= 0.9 * sessions);
        CHECK(widest_hz < 2 * apart_hz); // and no more than they can pull
    }
}

TEST_CASE("a pair that one pole stands for is unsure of its Q") {
    int held = 0, taps_read = 0;
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        synth::Normal normal(seed);
        const std::vector<synth::Ring> rings{{166, 55, 0.1, 0},
                                             {355, 60, 0.1, 6.28 * normal.uniform()},
                                             {357, 60, 0.05, 6.28 * normal.uniform()},
                                             {520, 60, 0.1, 0}};
        const taps::Tap tap = synth::tap(rings, normal, {.length_s = 0.8, .noise = 1e-4});
        const std::vector<modes::FittedTap> one{
            {&tap, taps::Spot::unknown, modes::fit_tap(tap).partials}};
        const auto found = modes::pool(one).modes;
        if (found.size() != 3)
            continue;
        ++taps_read;
        const modes::Interval q = modes::interval(found[1].q, found[1].q_sd, 1);
        held += q.low <= 60 && 60 <= q.high ? 1 : 0;
        CHECK(found[1].q_sd < 0.5 * found[1].q); // a pair a third of its half width apart
    }
    CAPTURE(held, taps_read);
    CHECK(taps_read >= 10);
    CHECK(held >= 0.85 * taps_read); // three quarters without its doubt
}

// As a ratio within one run, of processor time, so that a busy machine can't decide it. After every
// tap all of a session's are pooled: a session of 534 once took a second for each.
TEST_CASE("eight times the taps are pooled in less than 24 times as long") {
    const auto seconds = [](int count) {
        synth::Normal normal(7);
        std::vector<modes::FittedTap> taps;
        for (int i = 0; i < count; ++i) {
            std::vector<modes::Partial> partials;
            for (double hz = 90.0; hz < 2400.0; hz *= 1.17)
                partials.push_back(partial(hz * (1.0 + 0.002 * normal())));
            taps.push_back(tap_of(std::move(partials)));
        }
        double least = 1e9;
        for (int run = 0; run < 3; ++run) {
            const std::clock_t begin = std::clock();
            CHECK(modes::pool(taps).modes.size() == 21);
            least = std::min(least, static_cast<double>(std::clock() - begin) / CLOCKS_PER_SEC);
        }
        return least;
    };
    const double few = seconds(100), many = seconds(800);
    CAPTURE(few, many, many / few);
    CHECK(many < 24.0 * few);
}
