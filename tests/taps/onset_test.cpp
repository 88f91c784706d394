// Where a strike begins, against strikes whose first sample is known.

#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/onset.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace platewright;

namespace {

constexpr double k_onset_rate_hz = 48000;
constexpr std::size_t k_first = 14400; // 0.3 s

/// A contact of 3 ms, soft as a knuckle's, that sets three modes ringing, in a room whose rumble
/// and hum stand 30 dB under the ring.
std::vector<float> soft_strike(std::uint32_t seed) {
    synth::Normal normal(seed);
    std::vector<double> sound(k_first + 4800);
    for (const synth::Ring& ring : {synth::Ring{116, 50, 0.1, 0}, synth::Ring{172, 60, 0.15, 0},
                                    synth::Ring{352, 65, 0.3, 0}}) {
        constexpr std::size_t contact = 144;
        for (std::size_t n = k_first; n < sound.size(); ++n)
            for (std::size_t k = 0; k < std::min(contact, n - k_first); k += 8) {
                const double t = static_cast<double>(n - k_first - k) / k_onset_rate_hz;
                const double force = std::sin(3.14159265 * static_cast<double>(k) / contact);
                sound[n] += 0.1 * ring.amplitude * force * std::exp(-ring.decay() * t) *
                            std::sin(2 * 3.14159265 * ring.hz * t);
            }
    }
    synth::add_noise(sound, 3e-3, normal, 0.99);
    synth::add_noise(sound, 1e-5, normal);
    synth::add_line(sound, k_onset_rate_hz, 50, 3e-3, 6 * normal.uniform());
    return synth::to_floats(sound);
}

double off_ms(std::size_t found) {
    return 1000 * (static_cast<double>(found) - static_cast<double>(k_first)) / k_onset_rate_hz;
}

} // namespace

TEST_CASE("where quiet noise gives way to loud noise the split lies within two samples") {
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        synth::Normal normal(seed);
        std::vector<float> samples;
        for (int n = 0; n < 600; ++n)
            samples.push_back(static_cast<float>(normal() * (n < 371 ? 1e-3 : 0.3)));
        INFO("seed " << seed);
        CHECK(std::abs(static_cast<int>(taps::pick_onset(samples)) - 371) <= 2);
    }
}

TEST_CASE("a soft strike in rumble and hum is refined to half a millisecond, from wherever it was "
          "picked roughly") {
    std::vector<double> off;
    for (std::uint32_t seed = 1; seed <= 30; ++seed) {
        const std::vector<float> samples = soft_strike(seed);
        const std::size_t rough = k_first + 20 * seed; // up to 12.5 ms late
        off.push_back(std::abs(off_ms(taps::refine_onset(samples, rough, k_onset_rate_hz))));
    }
    std::ranges::sort(off);
    INFO("median " << off[15] << " ms, worst " << off.back() << " ms");
    CHECK(off[15] < 0.5);
    CHECK(off[28] < 1.0);
}

TEST_CASE("what a lossy codec spreads ahead of a strike is no part of it") {
    // Noise that fills a block up to the strike, 30 dB under it and 20 to 30 over the room.
    for (const double lead_s : {0.006, 0.010, 0.016, 0.019})
        for (std::uint32_t seed = 1; seed <= 10; ++seed) {
            std::vector<float> samples = soft_strike(seed);
            synth::Normal normal(100 + seed);
            for (std::size_t n = k_first - static_cast<std::size_t>(lead_s * k_onset_rate_hz);
                 n < k_first; ++n)
                samples[n] += static_cast<float>(0.004 * normal());
            CAPTURE(lead_s, seed);
            CHECK(std::abs(off_ms(taps::refine_onset(samples, k_first + 60, k_onset_rate_hz))) <
                  2.5);
        }
}

TEST_CASE("after digital silence a strike begins with its first sample") {
    std::vector<double> sound(k_first + 4800);
    synth::add_strike(sound, k_onset_rate_hz, k_first, std::vector{synth::Ring{352, 65, 0.3, 1.2}});
    CHECK(std::abs(off_ms(
              taps::refine_onset(synth::to_floats(sound), k_first + 60, k_onset_rate_hz))) < 0.1);
}

TEST_CASE("a tenth of a second of the room is enough to find a soft strike's beginning by") {
    for (std::uint32_t seed = 1; seed <= 10; ++seed) {
        std::vector<float> samples = soft_strike(seed);
        synth::Normal normal(seed);
        for (std::size_t n = 0; n < k_first - 4800; ++n) // what is not given is not read
            samples[n] = static_cast<float>(0.5 * normal());
        const auto since = std::span{samples}.subspan(k_first - 4800);
        CAPTURE(seed);
        CHECK(std::abs(off_ms(taps::refine_onset(since, 4800 + 100, k_onset_rate_hz) + k_first -
                              4800)) < 1.5);
    }
}

TEST_CASE("where too little of the room was heard the rough pick stands") {
    const std::vector<float> samples = soft_strike(1);
    const auto short_of = std::span{samples}.subspan(k_first - 1900);
    CHECK(taps::refine_onset(short_of, 1910, k_onset_rate_hz) == 1910);
    const auto early = std::span{samples}.first(k_first + 400); // less than 10 ms of the strike
    CHECK(taps::refine_onset(early, k_first + 20, k_onset_rate_hz) == k_first + 20);
}
