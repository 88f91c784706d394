// Whatever a sound card may hand on: taps gated, denoised, written down in few bits, clipped,
// sparse. None may end the program, and every figure is one. PLATEWRIGHT_ANY_SOUND=600 goes on for
// that many seconds, with seeds of the clock.

#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>

using namespace platewright;

namespace {

/// A number of bits' steps, or none; what lies under the gate is silence, as a denoiser leaves it.
void write_down(std::vector<double>& sound, synth::Normal& normal) {
    const double steps = std::pow(2.0, std::floor(3.0 + 14.0 * normal.uniform()));
    const double gate =
        normal.uniform() < 0.5 ? std::pow(10.0, -1.0 - 4.0 * normal.uniform()) : 0.0;
    const double ceiling = normal.uniform() < 0.2 ? 0.05 + normal.uniform() : 1.0;
    for (double& x : sound) {
        x = std::abs(x) < gate ? 0.0 : std::clamp(x, -ceiling, ceiling);
        x = std::clamp(std::round(x * steps), -steps, steps - 1.0) / steps;
    }
}

/// Strikes, clicks, a step, a line, noise, nothing: some of each.
std::vector<double> any_sound(synth::Normal& normal, double rate_hz) {
    std::vector<double> sound(static_cast<std::size_t>((0.3 + 1.2 * normal.uniform()) * rate_hz));
    const auto anywhere = [&] {
        return static_cast<std::size_t>(normal.uniform() * static_cast<double>(sound.size()));
    };
    std::vector<synth::Ring> rings;
    for (int left = static_cast<int>(6.0 * normal.uniform()); left > 0; --left)
        rings.push_back({20.0 + std::pow(normal.uniform(), 2) * 0.45 * rate_hz,
                         std::pow(10.0, 0.3 + 3.0 * normal.uniform()),
                         std::pow(10.0, -3.0 * normal.uniform()), 6.28 * normal.uniform()});
    for (int strikes = static_cast<int>(3.0 * normal.uniform()); strikes >= 0; --strikes)
        synth::add_strike(sound, rate_hz, anywhere(), rings);
    for (int clicks = static_cast<int>(4.0 * normal.uniform()); clicks > 0; --clicks)
        sound[anywhere()] = 2.0 * normal.uniform() - 1.0;
    if (normal.uniform() < 0.2)
        std::fill(sound.begin() + static_cast<std::ptrdiff_t>(anywhere()), sound.end(),
                  normal.uniform());
    if (normal.uniform() < 0.3)
        synth::add_line(sound, rate_hz, 0.4 * rate_hz * normal.uniform(), 0.1 * normal.uniform());
    if (normal.uniform() < 0.6)
        synth::add_noise(sound, std::pow(10.0, -1.0 - 5.0 * normal.uniform()), normal,
                         0.98 * normal.uniform());
    write_down(sound, normal);
    return sound;
}

bool is_sound(const modes::Partial& p) {
    return std::isfinite(p.frequency_hz) && std::isfinite(p.frequency_sd_hz) &&
           std::isfinite(p.q) && std::isfinite(p.q_sd) && std::isfinite(p.level_db) &&
           std::isfinite(p.level_dbfs) && std::isfinite(p.level_sd_db) &&
           std::isfinite(p.phase_rad) && p.frequency_hz > 0.0 && p.frequency_sd_hz > 0.0 &&
           p.q > 0.0;
}

/// Whatever the detector's verdict: a file that was doubted may be read all the same.
void read_any(std::uint32_t seed) {
    INFO("seed " << seed);
    synth::Normal normal(seed);
    const double rates_hz[] = {8000, 22050, 44100, 48000, 96000};
    const double rate_hz = rates_hz[static_cast<std::size_t>(5.0 * normal.uniform())];
    const modes::FitParams fit{.low_hz = normal.uniform() < 0.5 ? 40.0 : 15.0,
                               .high_hz = normal.uniform() < 0.5 ? 2500.0 : 0.45 * rate_hz};
    taps::Detector detector(rate_hz, {.low_hz = fit.low_hz, .high_hz = fit.high_hz});
    const auto sound = synth::to_floats(any_sound(normal, rate_hz));
    auto taps = detector.push(sound);
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    taps::Tap whole; // cut anywhere at all
    whole.sample_rate_hz = rate_hz;
    whole.onset_index =
        static_cast<std::size_t>(normal.uniform() * static_cast<double>(sound.size()));
    whole.samples = sound;
    taps.push_back(whole);
    std::vector<modes::FittedTap> fitted;
    for (const taps::Tap& tap : taps) {
        fitted.push_back({&tap, tap.spot, modes::fit_tap(tap, fit).partials});
        REQUIRE(
            std::all_of(fitted.back().partials.begin(), fitted.back().partials.end(), is_sound));
    }
    for (const modes::Mode& mode : modes::pool(fitted).modes)
        REQUIRE((std::isfinite(mode.frequency_hz) && std::isfinite(mode.frequency_sd_hz) &&
                 std::isfinite(mode.q_sd)));
}

} // namespace

TEST_CASE("no sound ends the program: gated, denoised, in few bits, clipped, sparse") {
    const char* const asked = std::getenv("PLATEWRIGHT_ANY_SOUND");
    if (asked == nullptr) {
        for (std::uint32_t seed = 1; seed <= 120; ++seed)
            read_any(seed);
        return;
    }
    const auto end = std::chrono::steady_clock::now() + std::chrono::seconds(std::atoi(asked));
    auto seed =
        static_cast<std::uint32_t>(std::chrono::system_clock::now().time_since_epoch().count());
    while (std::chrono::steady_clock::now() < end)
        read_any(seed++);
}

TEST_CASE("a strike after all but digital silence is read") {
    // Eight bits: the room before the strike is a crumb now and then, or nothing.
    int read = 0;
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        synth::Normal normal(seed);
        const std::vector<synth::Ring> rings{
            {116, 50, 0.1, 0}, {172, 60, 0.2, 1}, {352, 65, 0.3, 2}};
        taps::Tap tap = synth::tap(rings, normal, {.noise = 1.2e-3});
        for (float& x : tap.samples)
            x = std::round(x * 128.0F) / 128.0F;
        read += modes::fit_tap(tap).status == modes::FitStatus::ok ? 1 : 0;
    }
    CHECK(read == 60);
}
