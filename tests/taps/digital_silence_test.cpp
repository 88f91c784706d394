#include "support/catch.hpp"
#include "taps/onset/digital_silence.hpp"

#include <cmath>
#include <random>

using namespace platewright::taps;

namespace {

/// A tap whose pre-roll is `seconds` of one value, or of noise of one step of 16 bits; it rings in
/// as fine steps.
Tap after(double seconds, bool noisy) {
    std::mt19937 random(1);
    Tap tap;
    tap.sample_rate_hz = 48000;
    tap.onset_index = static_cast<std::size_t>(seconds * 48000);
    for (std::size_t n = 0; n < tap.onset_index; ++n)
        tap.samples.push_back(noisy && n % 7 == 0 ? static_cast<float>(random() % 2) / 32768.0F
                                                  : 0.0F);
    for (std::size_t n = 0; n < 4800; ++n)
        tap.samples.push_back(0.1F * std::sin(0.03F * static_cast<float>(n)));
    return tap;
}

/// The same in steps of so many bits, as a recorder of few bits rounds it.
Tap rounded(Tap tap, int bits) {
    const float steps = std::ldexp(1.0F, bits - 1);
    for (float& x : tap.samples)
        x = std::round(x * steps) / steps;
    return tap;
}

} // namespace

TEST_CASE("what comes out of digital silence is noticed, what comes out of a quiet room is not") {
    CHECK(follows_digital_silence(after(0.25, false)));
    CHECK_FALSE(follows_digital_silence(after(0.25, true)));
    // Too short a quiet tells nothing.
    CHECK(follows_digital_silence(after(0.065, false)));
    CHECK_FALSE(follows_digital_silence(after(0.03, false)));
    // The strike's own first samples, where it was found a little late, are no room.
    Tap late = after(0.25, false);
    late.onset_index += 240;
    CHECK(follows_digital_silence(late));
    late.onset_index += 480;
    CHECK_FALSE(follows_digital_silence(late));
}

TEST_CASE(
    "eight bits make digital silence of a quiet room, and are no gate: twelve would show it") {
    const Tap in_room = after(0.25, true);
    CHECK_FALSE(follows_digital_silence(rounded(in_room, 8)));
    CHECK(follows_digital_silence(rounded(in_room, 12)));
}

TEST_CASE("a strike that its recording begins with is led by a quarter of a second of silence") {
    const Tap at_once = after(0.005, false);
    const Tap led = led_by_silence(at_once);
    REQUIRE(led.samples.size() == at_once.samples.size() + 12000);
    CHECK(led.onset_index == at_once.onset_index + 12000);
    CHECK(led.samples[led.onset_index + 100] == at_once.samples[at_once.onset_index + 100]);
    CHECK(follows_digital_silence(led));
}
