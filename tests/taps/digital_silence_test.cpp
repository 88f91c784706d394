#include "support/catch.hpp"
#include "taps/digital_silence.hpp"

#include <random>

using namespace platewright::taps;

namespace {

/// A tap whose pre-roll is `seconds` of one value, or of noise of one step of 16 bits.
Tap after(double seconds, bool noisy) {
    std::mt19937 random(1);
    Tap tap;
    tap.sample_rate_hz = 48000;
    tap.onset_index = static_cast<std::size_t>(seconds * 48000);
    for (std::size_t n = 0; n < tap.onset_index; ++n)
        tap.samples.push_back(noisy && n % 7 == 0 ? static_cast<float>(random() % 2) / 32768.0F
                                                  : 0.0F);
    tap.samples.resize(tap.onset_index + 4800, 0.1F);
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
