#include "bench/sound/room.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/band.hpp"

#include <cmath>
#include <numbers>
#include <vector>

using namespace platewright;

namespace {

constexpr double k_rate_hz = 48000;

std::vector<float> quiet(double level, double hum_hz, double hum_level, double deaf_below_hz) {
    std::vector<double> sound(static_cast<std::size_t>(3 * k_rate_hz));
    synth::Normal normal(3);
    synth::add_noise(sound, level, normal);
    if (hum_hz > 0)
        synth::add_line(sound, k_rate_hz, hum_hz, hum_level, 0.3);
    std::vector<float> heard(sound.begin(), sound.end());
    if (deaf_below_hz > 0) {
        auto one = taps::Biquad::high_pass(deaf_below_hz, k_rate_hz);
        auto two = taps::Biquad::high_pass(deaf_below_hz, k_rate_hz);
        for (float& x : heard)
            x = static_cast<float>(two(one(static_cast<double>(x))));
    }
    return heard;
}

} // namespace

TEST_CASE("white noise reads its own power within the band, and no hum") {
    const auto report = bench::room_report(quiet(1e-3, 0, 0, 0), k_rate_hz);
    // Parseval: of the variance, spread evenly over half the rate, the band holds 2460 of 24000 Hz.
    const double expected = 20 * std::log10(1e-3) + 10 * std::log10(2460.0 / 24000.0);
    CHECK(report.noise_dbfs == Approx(expected).margin(0.3));
    CHECK_FALSE(report.hum_hz);
    CHECK(report.reaches_60_hz);
    CHECK(report.low_end_db == Approx(0).margin(2));
}

TEST_CASE("the mains is told by its own frequency, in Europe and in America") {
    for (const double mains : {50.0, 60.0}) {
        const auto fundamental = bench::room_report(quiet(1e-4, mains, 1e-3, 0), k_rate_hz);
        CHECK(fundamental.hum_hz == mains);
        CHECK(fundamental.hum_db > 30);
        const auto third = bench::room_report(quiet(1e-4, 3 * mains, 1e-3, 0), k_rate_hz);
        CHECK(third.hum_hz == mains); // through a small loudspeaker often only harmonics are there
    }
}

TEST_CASE("a microphone that is deaf below 200 Hz does not reach down to 60 Hz") {
    const auto report = bench::room_report(quiet(1e-3, 0, 0, 200), k_rate_hz);
    CHECK_FALSE(report.reaches_60_hz);
    // Two Butterworth sections of second order at 200 Hz: 2 x 10 log10(1 + (200/60)^4) = 41.9 dB at
    // 60 Hz, 1.6 dB at 300 Hz.
    CHECK(report.low_end_db == Approx(-40.4).margin(2.5));
}

TEST_CASE("no sound at all is no report of anything") {
    const auto report = bench::room_report({}, k_rate_hz);
    CHECK(report.noise_dbfs == -160);
    CHECK_FALSE(report.reaches_60_hz);
    CHECK_FALSE(bench::room_report(std::vector<float>(96000, 0.0F), k_rate_hz).hum_hz);
}

TEST_CASE(
    "an input from which nothing comes is told as silent, and no other microphone is advised") {
    CHECK(bench::room_report(std::vector<float>(3 * 48000, 0.0F), 48000).silent);
    std::vector<float> last_bit(3 * 48000, 0.0F); // a quiet room through 16 bits
    for (std::size_t i = 0; i < last_bit.size(); i += 7)
        last_bit[i] = i % 2 == 0 ? 3.05e-5F : -3.05e-5F;
    CHECK_FALSE(bench::room_report(last_bit, 48000).silent);
}
