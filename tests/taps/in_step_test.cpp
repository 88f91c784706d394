// Whether a sound stays in step with itself, of sounds whose answer is known: what a sum of decays
// was a quarter of a second long, and what noise, a knock's echo, and a gliding tone are.

#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/judge/in_step.hpp"

#include <cmath>
#include <numbers>
#include <utility>
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

TEST_CASE("a pure tone that glides by a quarter or a half while it lasts does not stay in step") {
    for (const auto& [by, most] : {std::pair{0.25, 0.5}, std::pair{0.5, 0.1}}) {
        std::vector<double> glide = empty(48000);
        double phase = 0;
        for (std::size_t n = 0; n < glide.size(); ++n) {
            const double share = static_cast<double>(n) / static_cast<double>(glide.size());
            phase += 2 * std::numbers::pi * 200 * (1 + by * share) / 48000;
            glide[n] = 0.1 * std::sin(phase);
        }
        CAPTURE(by);
        CHECK(of(glide, 48000) < most);
    }
}

TEST_CASE("how loud a sound is tells nothing of whether it stays in step") {
    for (const double loud : {1e-3, 0.03, 1.0}) {
        CAPTURE(loud);
        synth::Normal normal(5);
        std::vector<double> noise = empty(48000), ring = empty(48000);
        synth::add_noise(noise, loud, normal);
        CHECK(of(noise, 48000) < 0.1);
        synth::add_strike(ring, 48000, 0, std::vector<synth::Ring>{{300, 10, loud, 0}});
        CHECK(of(ring, 48000) > 0.98);
    }
}

TEST_CASE("six modes within one octave stay in step") {
    const std::vector<synth::Ring> crowd{{210, 60, 0.2, 0}, {250, 70, 0.2, 1}, {285, 80, 0.2, 2},
                                         {318, 90, 0.2, 3}, {352, 90, 0.2, 4}, {385, 90, 0.2, 5}};
    synth::Normal normal(3);
    std::vector<double> sound = empty(48000);
    synth::add_strike(sound, 48000, 0, crowd);
    synth::add_noise(sound, 1e-4, normal);
    CHECK(of(sound, 48000) > 0.9);
}

TEST_CASE("what cracks in the first hundredth of a second, 20 dB over the ring, is let go by") {
    synth::Normal normal(3);
    std::vector<double> sound = empty(48000);
    synth::add_strike(sound, 48000, 0,
                      std::vector<synth::Ring>{{172, 60, 0.3, 1}, {352, 65, 0.3, 2}});
    for (std::size_t n = 0; n < 400; ++n)
        sound[n] += 6 * normal();
    CHECK(of(sound, 48000) > 0.9);
}

TEST_CASE("of a tone in noise as much is foretold as the best predictor of six samples can") {
    // A tone S in white noise N is foretold by p samples up to pr/(1 + pr), r = S/N (Wiener's
    // filter, any text on prediction). At 48 kHz every fourth sample is taken, so that the octaves
    // of 1500, 750, 375 … Hz bear 1/4, 1/8, 1/16 … of the noise, each of half as many samples as
    // the one before: a third of it together.
    for (const double noise : {1.0, 0.5, 0.25}) {
        const double tone = 0.5, n = noise * noise, r = tone / (n / 4);
        const double expected = tone / (tone + n / 3) * 6 * r / (1 + 6 * r);
        double mean = 0;
        for (std::uint32_t seed = 1; seed <= 10; ++seed) {
            synth::Normal normal(seed);
            std::vector<double> sound = empty(48000);
            synth::add_line(sound, 48000, 1875, 1.0);
            synth::add_noise(sound, noise, normal);
            mean += of(sound, 48000) / 10;
        }
        CAPTURE(noise);
        CHECK(mean == Approx(expected).margin(0.015));
    }
}

TEST_CASE(
    "of short noise no more is foretold than of long: what any six coefficients would is off") {
    for (const auto& [seconds, most] : {std::pair{0.04, 0.05}, std::pair{0.06, 0.018}}) {
        double mean = 0;
        for (std::uint32_t seed = 1; seed <= 100; ++seed) {
            synth::Normal normal(seed);
            std::vector<double> noise(static_cast<std::size_t>(seconds * 48000));
            synth::add_noise(noise, 0.1, normal);
            mean += of(noise, 48000) / 100;
        }
        CAPTURE(seconds);
        CHECK(mean < most);
    }
}

TEST_CASE("nothing, and next to nothing, stays in no step") {
    CHECK(taps::in_step({}, 48000, 40, 2500) == 0);
    CHECK(of(empty(48000), 48000) == 0);
    CHECK(taps::in_step(std::vector<float>(50, 0.1F), 48000, 40, 2500) >= 0);
}
