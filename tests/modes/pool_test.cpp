// Which modes a session has, from its taps.

#include "partials.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <cmath>
#include <ctime>

using namespace platewright;

using test::partial;
using test::tap_of;

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

TEST_CASE("partials a tenth apart are two modes, however unsure one of them is") {
    std::vector<modes::FittedTap> taps{tap_of({partial(303.0)}), tap_of({partial(337.0)})};
    taps[1].partials[0].frequency_sd_hz = 15;
    CHECK(modes::pool(taps).modes.size() == 2);
    taps[1].partials[0].frequency_hz = 308;
    CHECK(modes::pool(taps).modes.size() == 1);
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
