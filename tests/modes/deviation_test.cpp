// What a partial says of its own deviations, against what many taps of one plate spread by: each of
// its z must have a root mean square of one. A figure that is off by a factor, or carried the wrong
// way from the ring back to the strike, shows.

#include "modes/estimate/fit.hpp"
#include "modes/name/expectation.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace platewright;

namespace {

struct Spread {
    double sum = 0, square = 0;
    int count = 0;
    void add(double z) {
        sum += z;
        square += z * z;
        ++count;
    }
    double mean() const { return sum / count; }
    double rms() const { return std::sqrt(square / count); }
};

} // namespace

TEST_CASE("frequency, Q, level and phase spread by what they say") {
    const std::vector<synth::Ring> rings{
        {168, 30, 0.1, 0.4}, {352, 62, 0.1, 1.1}, {587, 90, 0.1, -2}};
    Spread frequency, q, level, phase;
    constexpr int taps = 120;
    for (int i = 0; i < taps; ++i) {
        synth::Normal normal(static_cast<std::uint32_t>(300 + i));
        const auto partials =
            modes::fit_tap(synth::tap(rings, normal, {.length_s = 0.8, .noise = 0.006})).partials;
        if (partials.size() != rings.size())
            continue; // one found in noise, now and then
        for (std::size_t k = 0; k < rings.size(); ++k) {
            const modes::Partial& p = partials[k];
            frequency.add((p.frequency_hz - rings[k].hz) / p.frequency_sd_hz);
            q.add((p.q - rings[k].q) / p.q_sd);
            level.add((p.level_dbfs - 20 * std::log10(rings[k].amplitude)) / p.level_sd_db);
            phase.add(std::remainder(p.phase_rad - rings[k].phase, 2 * std::numbers::pi) /
                      p.phase_sd_rad);
        }
    }
    REQUIRE(frequency.count >= 330);
    // 360 values leave a root mean square 3.7 % of chance and a mean 0.053.
    for (const Spread& spread : std::vector{frequency, q, level, phase}) {
        CAPTURE(spread.rms(), spread.mean());
        CHECK(spread.rms() > 0.85);
        CHECK(spread.rms() < 1.17);
        CHECK(std::abs(spread.mean()) < 0.25);
    }
}

TEST_CASE("a hammer's thump is no twin of the low modes that lie within its width") {
    // A cello's back: its modes, and what a felt hammer on a hand-held plate leaves of itself.
    const std::vector<synth::Ring> modes_told{
        {69.5, 61, 0.10, 0.4}, {96.4, 62, 0.08, 1.1}, {145.6, 69, 0.20, -2}, {188.4, 64, 0.08, 2}};
    for (const double thump_hz : {90.0, 130.0, 160.0}) {
        for (std::uint32_t seed = 1; seed <= 4; ++seed) {
            synth::Normal normal(seed);
            std::vector<synth::Ring> rings = modes_told;
            rings.push_back({thump_hz, 2.5, 0.3, 6.28 * normal.uniform()});
            const modes::Fit fit =
                modes::fit_tap(synth::tap(rings, normal, {.length_s = 1.6, .noise = 1e-4}),
                               {.low_hz = 15, .high_hz = 1200});
            CAPTURE(thump_hz, seed);
            for (const synth::Ring& mode : modes_told) {
                const auto found =
                    std::ranges::min_element(fit.partials, {}, [&](const modes::Partial& p) {
                        return std::abs(p.frequency_hz - mode.hz);
                    });
                REQUIRE(found != fit.partials.end());
                CHECK(found->frequency_hz == Approx(mode.hz).epsilon(0.002));
                CHECK(found->frequency_sd_hz < 0.003 * mode.hz);
                CHECK(found->q_sd < 0.1 * mode.q);
            }
            CHECK(fit.input.bend > -0.2);
        }
    }
}

TEST_CASE(
    "a plate's modes follow its mass as published: mode 5 by little more than half of mode 2") {
    // King's regraduated cello (docs/sources.md#king): mode 5 moved by 0.55 of mode 2's share. An
    // even thinning moves a plate's own bending stiffness with the cube of its thickness, so no
    // exponent comes to two.
    CHECK(modes::mass_exponent(5) / modes::mass_exponent(2) == Approx(0.55).margin(0.05));
    CHECK(modes::mass_exponent(2) > 0.5);
    CHECK(modes::mass_exponent(2) < 2);
    CHECK(modes::mass_exponent(1) > 0.5);
    CHECK(modes::mass_exponent(1) < 2);
}
