#include "modes/ring/recognised.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <numbers>

using namespace platewright;

namespace {

using Taps = std::vector<std::vector<modes::Partial>>;

std::vector<modes::Partial> ring_of(const std::vector<std::pair<double, double>>& hz_and_db) {
    std::vector<modes::Partial> partials;
    for (const auto& [hz, db] : hz_and_db)
        partials.push_back(
            {.frequency_hz = hz, .frequency_sd_hz = 0.001 * hz, .q = 15, .level_db = db});
    return partials;
}

double likeness_to(const Taps& others, const std::vector<modes::Partial>& tap) {
    const std::vector<std::span<const modes::Partial>> known(others.begin(), others.end());
    return modes::likeness(known, tap);
}

/// What a tap shows whose log odds, by itself, are these: how much is left untold is set so.
modes::RingEvidence evidence_of(double log_odds, double mean_q = 20) {
    modes::RingEvidence evidence{.energy = 1e4,
                                 .untold = 0.02,
                                 .untold_late = 0.2,
                                 .mean_q = mean_q,
                                 .unsure = 0.1,
                                 .modes = 3};
    double least = 0.02, most = 1;
    for (int step = 0; step < 60; ++step) {
        evidence.untold = std::sqrt(least * most);
        (modes::ring_log_odds(evidence) > log_odds ? least : most) = evidence.untold;
    }
    REQUIRE(modes::ring_log_odds(evidence) == Approx(log_odds).margin(1e-6));
    return evidence;
}

bool is_recognised(double log_odds, const std::vector<modes::Partial>& tap, const Taps& others,
                   std::size_t in_question = 3) {
    const std::vector<std::span<const modes::Partial>> known(others.begin(), others.end());
    return modes::is_recognised(evidence_of(log_odds), tap, known, in_question);
}

// A plate in the hand, invented.
const std::vector<modes::Partial> k_once = ring_of({{171, 0}, {355, -6}, {262, -9}, {612, -14}}),
                                  k_again = ring_of({{355, 0}, {171, -4}, {612, -8}, {98, -12}});

} // namespace

TEST_CASE("likeness is Bayes' factor of a mixture, worked out by hand for one partial") {
    // Both 0.1 % sure, and a hold of 0.3 %: standard deviation 0.3317 % of the distance. At no
    // distance the normal density is 1 / (0.003317 sqrt(2 pi)) = 120.3, against 0.25 anywhere.
    const Taps one{ring_of({{300, 0}})};
    const double sd = std::sqrt(2e-6 + 9e-6), peak = 1 / (sd * std::sqrt(2 * std::numbers::pi));
    CHECK(likeness_to(one, ring_of({{300, 0}})) == Approx(std::log(0.3 + 0.7 * peak / 0.25)));
    CHECK(likeness_to(one, ring_of({{300 * std::exp(sd), 0}})) ==
          Approx(std::log(0.3 + 0.7 * peak * std::exp(-0.5) / 0.25)));
    CHECK(likeness_to(one, ring_of({{500, 0}})) == Approx(std::log(0.3)));
    // Half of two taps have it, or one of a tap's two partials: half the density.
    CHECK(likeness_to({ring_of({{300, 0}}), ring_of({{700, 0}})}, ring_of({{300, 0}})) ==
          Approx(std::log(0.3 + 0.7 * peak / 2 / 0.25)));
    CHECK(likeness_to({ring_of({{300, 0}, {700, 0}})}, ring_of({{300, 0}})) ==
          Approx(std::log(0.3 + 0.7 * peak / 2 / 0.25)));
    CHECK(likeness_to({}, ring_of({{300, 0}})) == 0);
}

TEST_CASE("likeness asks the six strongest partials within 20 dB") {
    const Taps one{ring_of({{300, 0}})};
    CHECK(likeness_to(one, ring_of({{500, 0}, {600, -19}})) == Approx(2 * std::log(0.3)));
    CHECK(likeness_to(one, ring_of({{500, 0}, {600, -21}})) == Approx(std::log(0.3)));
    std::vector<modes::Partial> many;
    for (int i = 0; i < 9; ++i)
        many.push_back(
            {.frequency_hz = 500.0 + 50 * i, .frequency_sd_hz = 0.5, .level_db = -1.0 * i});
    CHECK(likeness_to(one, many) == Approx(6 * std::log(0.3)));
}

TEST_CASE("a doubtful tap that rings like two others is recognised, a knock on the bench is not") {
    const Taps others{k_once, k_again};
    CHECK(is_recognised(-3, ring_of({{170.5, 0}, {356, -3}, {613, -7}}), others));
    CHECK_FALSE(is_recognised(-3, ring_of({{120, 0}, {410, -3}, {700, -7}}), others));
    CHECK_FALSE(is_recognised(-0.5, ring_of({{410, 0}}), others));
}

TEST_CASE("one other tap is too few to recognise by, and likeness has to outweigh the doubt") {
    const std::vector<modes::Partial> alike = ring_of({{171, 0}, {355, -3}, {612, -7}});
    CHECK_FALSE(is_recognised(-3, alike, {k_once}));
    CHECK(is_recognised(-3, alike, {k_once, k_once}));
    // Below log odds of -4 lie the disturbances: no likeness helps.
    CHECK(is_recognised(-3.9, alike, {k_once, k_again}));
    CHECK_FALSE(is_recognised(-4.1, alike, {k_once, k_again}));
    // Two among ten that may be rings tell, among eleven no more.
    CHECK(is_recognised(-3, alike, {k_once, k_once}, 10));
    CHECK_FALSE(is_recognised(-3, alike, {k_once, k_once}, 11));
    // Seven to one, e^2, together.
    const Taps one{ring_of({{300, 0}}), ring_of({{300, 0}})};
    const double likeness = likeness_to(one, ring_of({{300, 0}}));
    REQUIRE(likeness > 3);
    REQUIRE(likeness < 5.9); // so that both lie above -4
    CHECK(is_recognised(2.1 - likeness, ring_of({{300, 0}}), one));
    CHECK_FALSE(is_recognised(1.9 - likeness, ring_of({{300, 0}}), one));
}

namespace {

/// How many of these, none of which counts by itself, count together.
std::size_t counted(const Taps& taps, double log_odds, double mean_q) {
    std::vector<modes::JudgedRing> rings;
    for (const auto& tap : taps)
        rings.push_back({evidence_of(log_odds, mean_q), tap});
    return modes::recognise(rings).size();
}

} // namespace

TEST_CASE("three that ring on and are alike count, though none of them does alone") {
    // As a plate in a room that answers as loud as it does.
    CHECK(counted({k_once, k_again, k_once}, -5.8, 40) == 3);
    CHECK(counted({k_once, k_again}, -1, 40) == 0);
    CHECK(counted({k_once, k_again, k_once}, -6.2, 40) == 0);
    // Steps and thumps in one room are as alike: there is 25 the least of Q less two deviations.
    CHECK(counted({k_once, k_again, k_once}, -1, 30) == 0);
    CHECK(counted({k_once, k_again, k_once}, -1, 33) == 3);
}

TEST_CASE(
    "sounds that are alike by chance among many don't count, nor those alike in one partial") {
    Taps taps{k_once, k_again, k_once};
    for (int i = 0; i < 10; ++i) { // each its own
        const double hz = 93 * std::pow(1.29, i);
        taps.push_back(ring_of({{hz, 0}, {hz * 1.07, -3}, {hz * 1.151, -6}}));
    }
    CHECK(counted(taps, -2, 40) == 3); // 2 others of 13 in question
    for (int i = 0; i < 12; ++i) {
        const double hz = 95 * std::pow(1.27, i);
        taps.push_back(ring_of({{hz, 0}, {hz * 1.09, -3}, {hz * 1.173, -6}}));
    }
    CHECK(counted(taps, -2, 40) == 0);
    const Taps loosely{ring_of({{300, 0}, {410, -2}, {530, -4}}),
                       ring_of({{300, 0}, {450, -2}, {590, -4}}),
                       ring_of({{300, 0}, {480, -2}, {640, -4}})};
    CHECK(counted(loosely, -2, 40) == 0);
}

TEST_CASE("who counts helps to know the others, in whatever order they came") {
    std::vector<modes::JudgedRing> rings;
    for (const bool counts : {false, true, false, true})
        rings.push_back({evidence_of(-3), k_once, counts});
    CHECK(modes::recognise(rings) == std::vector<std::size_t>{0, 2});
    CHECK(rings[0].counts);
}
