#include "modes/estimate/fit.hpp"
#include "modes/usual_band.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

#include <cmath>
#include <vector>

using namespace platewright;
using modes::InstrumentKind;
using modes::Part;

TEST_CASE("a cello's and a double bass's free plates are heard from their lowest mode on") {
    CHECK(modes::usual_band(InstrumentKind::cello, Part::back).low_hz == 15);
    CHECK(modes::usual_band(InstrumentKind::other, Part::top).low_hz == 15);
    CHECK(modes::usual_band(InstrumentKind::violin, Part::back).low_hz == 40);
    CHECK(modes::usual_band(InstrumentKind::viola, Part::top).low_hz == 40);
    CHECK(modes::usual_band(InstrumentKind::cello, Part::body).low_hz == 40);
    // Without a word, it is what the program has listened to since its first day.
    CHECK(modes::usual_band(InstrumentKind::violin, Part::top).high_hz ==
          modes::FitParams{}.high_hz);
    CHECK(modes::usual_band(InstrumentKind::violin, Part::top).low_hz ==
          taps::DetectorParams{}.low_hz);
}

TEST_CASE("twelve strikes on a double bass's back are twelve taps, each with its lowest mode") {
    const modes::UsualBand band = modes::usual_band(InstrumentKind::other, Part::back);
    constexpr double rate_hz = 48000;
    const std::vector<synth::Ring> back{{19.5, 45, 0.12, 0.4},
                                        {31.2, 50, 0.2, 1},
                                        {44.0, 55, 0.1, 2},
                                        {71.5, 60, 0.2, 0},
                                        {118, 60, 0.1, 1}};
    synth::Normal normal(61);
    std::vector<double> sound(static_cast<std::size_t>(40 * rate_hz));
    synth::add_noise(sound, 2e-4, normal);
    for (int strike = 0; strike < 12; ++strike)
        synth::add_strike(sound, rate_hz, static_cast<std::size_t>((1.0 + 3.2 * strike) * rate_hz),
                          back);
    taps::Detector detector(rate_hz, {.low_hz = band.low_hz, .high_hz = band.high_hz});
    auto taps = detector.push(synth::to_floats(sound));
    for (taps::Tap& last : detector.finish())
        taps.push_back(std::move(last));
    REQUIRE(taps.size() == 12);
    for (const taps::Tap& tap : taps) {
        CHECK(taps::to_word(tap.verdict) == "accepted");
        const auto partials =
            modes::fit_tap(tap, {.low_hz = band.low_hz, .high_hz = band.high_hz}).partials;
        REQUIRE_FALSE(partials.empty());
        CHECK(std::abs(partials.front().frequency_hz - 19.5) <
              4 * partials.front().frequency_sd_hz + 0.002);
    }
}
