// Whether a sound stays in step with itself, of sounds whose answer is known: what a sum of decays
// was a quarter of a second long, and what noise, a knock's echo, and a gliding tone are.

#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/in_step.hpp"

#include <cmath>
#include <numbers>
#include <vector>

using namespace platewright;

namespace {

constexpr double k_seconds = 0.25;

double of(const std::vector<double>& sound, double rate_hz) {
    return taps::in_step(synth::to_floats(sound), rate_hz, 40, 2500);
}

std::vector<double> empty(double rate_hz) {
    return std::vector<double>(static_cast<std::size_t>(k_seconds * rate_hz));
}

} // namespace

TEST_CASE("a ring stays in step at any rate, in noise 30 dB under it") {
    const std::vector<synth::Ring> plate{
        {116, 50, 0.1, 0.3}, {172, 60, 0.15, 1}, {352, 65, 0.3, 2}, {701, 70, 0.1, 0}};
    for (const double rate_hz : {22050.0, 48000.0, 96000.0}) {
        synth::Normal normal(3);
        std::vector<double> sound = empty(rate_hz);
        synth::add_strike(sound, rate_hz, 0, plate);
        synth::add_noise(sound, 3e-3, normal);
        INFO(rate_hz << " samples a second");
        CHECK(of(sound, rate_hz) > 0.9);
    }
}

TEST_CASE("noise, a knock's echo and a gliding voice do not stay in step") {
    for (std::uint32_t seed = 1; seed <= 10; ++seed) {
        synth::Normal normal(seed);
        std::vector<double> noise = empty(48000);
        synth::add_noise(noise, 0.1, normal);
        INFO("seed " << seed);
        CHECK(of(noise, 48000) < 0.2);
        std::vector<double> echo = noise;
        for (std::size_t n = 0; n < echo.size(); ++n)
            echo[n] *= std::exp(-static_cast<double>(n) / (0.05 * 48000));
        CHECK(of(echo, 48000) < 0.5);
    }
    std::vector<double> glide = empty(48000);
    double phase = 0;
    for (std::size_t n = 0; n < glide.size(); ++n) {
        const double t = static_cast<double>(n) / 48000;
        phase += 2 * std::numbers::pi * 120 * (1 + 1.2 * t) / 48000; // a third of an octave
        for (int harmonic = 1; harmonic <= 12; ++harmonic)
            glide[n] += 0.1 * std::sin(harmonic * phase) / harmonic;
    }
    CHECK(of(glide, 48000) < 0.85);
}

TEST_CASE("nothing, and next to nothing, stays in no step") {
    CHECK(taps::in_step({}, 48000, 40, 2500) == 0);
    CHECK(of(empty(48000), 48000) == 0);
    CHECK(taps::in_step(std::vector<float>(50, 0.1F), 48000, 40, 2500) >= 0);
}
