#include "speed/detection/scene.hpp"
#include "support/catch.hpp"

#include <cmath>

using namespace detection;

// The bars of the full bench (docs/detection-results.md), on some minutes with seeds of its own.

TEST_CASE("strikes 20 dB over a noisy workshop's floor are found within a millisecond, and nothing "
          "else is taken for one") {
    const Speakers speakers(14, 31);
    Score score;
    for (const Family family : {Family::violin, Family::viola, Family::cello}) {
        const Scene scene =
            make_scene(family, {.seconds = 40, .level_db = 20, .disturbed = 0.5}, speakers, 7);
        score.add(scene, accepted(detect(scene.sound)));
    }
    CAPTURE(score.strikes, score.hit, score.wrong);
    REQUIRE(score.strikes >= 30);
    // Was 0.99 before the ring test was one score (decision 032), which refuses 2 of these 40.
    CHECK(score.f_measure() >= 0.97);
    int late = 0;
    for (const double ms : score.late_ms)
        late += std::abs(ms) > 1 ? 1 : 0;
    CHECK(late <= score.strikes / 30);
}

TEST_CASE("no tap is accepted in a noisy workshop in which nobody taps") {
    const Speakers speakers(14, 32);
    const Scene scene = make_scene(Family::violin, {.seconds = 120, .level_db = {}}, speakers, 8);
    REQUIRE(scene.stirs_s.size() > 30);
    CHECK(accepted(detect(scene.sound)).empty());
}

TEST_CASE("on clean sound every onset is within half a millisecond") {
    const Speakers speakers(1, 33);
    Score score;
    for (const Family family : {Family::violin, Family::viola, Family::cello}) {
        const Scene scene =
            make_scene(family, {.seconds = 30, .level_db = 50, .disturbed = 0, .floor_dbfs = -74},
                       speakers, 9);
        score.add(scene, accepted(detect(scene.sound)));
    }
    REQUIRE(score.recall() == 1);
    for (const double ms : score.late_ms)
        CHECK(std::abs(ms) < 0.5);
}

TEST_CASE("a plate stopped by the hand after a tenth of a second is too short") {
    int right = 0, wrong = 0;
    for (std::uint64_t seed = 0; seed < 12; ++seed) {
        Random random(400 + seed);
        Signal sound = steady_room(static_cast<std::size_t>(4 * k_rate_hz), random);
        for (double& x : sound)
            x *= 3e-4;
        const Signal strike = plate_strike(static_cast<Family>(seed % 3), random);
        for (std::size_t n = 0; n < strike.size(); ++n) {
            const double t = static_cast<double>(n) / k_rate_hz;
            sound[48000 + n] += 0.3 * strike[n] * (t < 0.1 ? 1 : std::exp(-(t - 0.1) / 0.005));
        }
        const auto taps = detect({sound.begin(), sound.end()});
        REQUIRE(taps.size() == 1);
        CHECK(taps[0].verdict != platewright::taps::Verdict::accepted);
        (taps[0].verdict == platewright::taps::Verdict::too_short ? right : wrong) += 1;
    }
    CHECK(right >= 10);
}
