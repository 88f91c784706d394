#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/judge/judge.hpp"

#include <cmath>
#include <numbers>

using namespace platewright::taps;

namespace {

/// The verdict on a strike 13 dB over mains hum that was heard for so long before it, its onset
/// found late by late_s.
Verdict over_hum(double before_s, double late_s = 0) {
    constexpr double rate_hz = 48000, hum = 0.02;
    std::vector<double> sound(static_cast<std::size_t>((before_s + 1) * rate_hz));
    synth::add_line(sound, rate_hz, 100, hum);
    Tap tap;
    tap.sample_rate_hz = rate_hz;
    tap.onset_index = static_cast<std::size_t>(before_s * rate_hz);
    synth::add_strike(sound, rate_hz, tap.onset_index,
                      std::vector<synth::Ring>{{350, 60, 1.2 * hum * std::pow(10, 13.0 / 20), 0}});
    tap.onset_index += static_cast<std::size_t>(late_s * rate_hz);
    synth::Normal normal(4);
    synth::add_noise(sound, 1e-5, normal);
    tap.samples = synth::to_floats(sound);
    return judge({.tap = tap,
                  .in_band = tap.samples,
                  .room_dbfs = 20 * std::log10(hum / std::numbers::sqrt2)},
                 {});
}

} // namespace

TEST_CASE("two of hum's longest periods before a strike are enough to know it by, one is not") {
    CHECK(to_text(over_hum(0.25)) == "accepted");
    CHECK(to_text(over_hum(0.09)) == "accepted");
    CHECK(to_text(over_hum(0.05)) == "too weak");
}

TEST_CASE("where the onset was found 4 ms late, the strike itself is not taken for the hum") {
    CHECK(to_text(over_hum(0.09, 0.004)) == "accepted");
}
