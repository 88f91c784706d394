// What the quiet before a strike tells, and what a fit does where there is none or hardly any.

#include "modes/estimate/fit.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

using namespace platewright;

namespace {

/// A strike after digital silence, written down in 16 bits. For the first `noisy_s` there is noise
/// that follows the sound, `untold_db` under it, as the contact and a lossy codec leave it; in the
/// end only what rings is left.
taps::Tap after_silence(const std::vector<synth::Ring>& rings, double untold_db, double noisy_s,
                        std::uint32_t seed) {
    synth::Normal normal(seed);
    taps::Tap tap = synth::tap(rings, normal, {.rate_hz = 44100, .length_s = 0.9, .noise = 0});
    const std::size_t piece = 441;
    const auto noisy = static_cast<std::size_t>(noisy_s * 44100);
    for (std::size_t from = tap.onset_index; from < tap.onset_index + noisy; from += piece) {
        double power = 0;
        for (std::size_t n = from; n < from + piece; ++n)
            power +=
                static_cast<double>(tap.samples[n]) * static_cast<double>(tap.samples[n]) / 441.0;
        for (std::size_t n = from; n < from + piece; ++n)
            tap.samples[n] +=
                static_cast<float>(std::sqrt(power) * std::pow(10, -untold_db / 20) * normal());
    }
    for (float& x : tap.samples)
        x = std::round(x * 32768.0F) / 32768.0F;
    return tap;
}

} // namespace

TEST_CASE("after digital silence what rings longest is not taken for noise") {
    const double untold_db = GENERATE(20.0, 26.0, 32.0, 40.0);
    const double noisy_s = GENERATE(0.05, 0.1, 0.2);
    CAPTURE(untold_db, noisy_s);
    const modes::Fit fit = modes::fit_tap(after_silence(
        {{131, 477, 0.3, 0.4}, {524, 300, 0.06, 1}, {1300, 150, 0.02, 2}}, untold_db, noisy_s, 3));
    REQUIRE(fit.status == modes::FitStatus::ok);
    const auto strongest = std::ranges::max_element(fit.partials, {}, &modes::Partial::level_db);
    CHECK(std::abs(strongest->frequency_hz - 131) < 0.05);
    CHECK(std::abs(strongest->q - 477) < 10);
}

TEST_CASE("after digital silence a mode 48 dB under the strongest is found, for the room is taken "
          "for no louder and no quieter than real sound is told") {
    const double noisy_s = GENERATE(0.1, 0.4);
    CAPTURE(noisy_s);
    const modes::Fit fit = modes::fit_tap(after_silence(
        {{131, 477, 0.3, 0.4}, {524, 300, 0.06, 1}, {1300, 150, 0.02, 2}, {700, 40, 0.0017, 2}}, 40,
        noisy_s, 3));
    REQUIRE(fit.partials.size() == 4);
    CHECK(std::abs(fit.partials[2].frequency_hz - 700) < 3);
}
