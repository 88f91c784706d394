#include "base/failure.hpp"
#include "ledger/files/recording_file.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <limits>
#include <random>

using namespace platewright;
using namespace platewright::ledger;

namespace {

std::vector<float> noise(std::size_t count, double loudest) {
    std::mt19937_64 random{9};
    std::uniform_real_distribution<double> uniform{-loudest, loudest};
    std::vector<float> samples(count);
    for (float& sample : samples)
        sample = static_cast<float>(uniform(random));
    return samples;
}

double worst_error(const std::vector<float>& samples, int rate) {
    const Sound sound = decode_recording(encode_recording(samples, rate));
    REQUIRE(sound.sample_rate_hz == rate);
    REQUIRE(sound.samples.size() == samples.size());
    double worst = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i)
        worst = std::max(worst, std::abs(static_cast<double>(samples[i]) -
                                         static_cast<double>(sound.samples[i])));
    return worst;
}

} // namespace

TEST_CASE("sound is kept to half a step of 24 bits at every rate a sound card has") {
    for (const int rate : {8000, 11025, 44100, 48000, 88200, 96000, 176400, 192000, 384000})
        CHECK(worst_error(noise(5000, 0.999), rate) <= std::ldexp(1.0, -24));
    CHECK(worst_error({0.25F}, 48000) == 0.0);
    CHECK(worst_error(std::vector<float>(100, 0.0F), 48000) == 0.0);
}

TEST_CASE("16 and 24 bit sound is kept to the bit, and full scale by a step") {
    std::vector<float> samples;
    for (int i = -32768; i < 32768; i += 7)
        samples.push_back(static_cast<float>(std::ldexp(i, -15)));
    for (int i = 8388000; i < 8388608; ++i)
        samples.push_back(static_cast<float>(std::ldexp(i, -23)));
    CHECK(worst_error(samples, 44100) == 0.0);
    CHECK(worst_error({1.0F, -1.0F}, 44100) == std::ldexp(1.0, -23));
}

TEST_CASE("sound beyond full scale, which a float recording may hold, is kept scaled") {
    CHECK(worst_error(noise(5000, 3.7), 48000) <= std::ldexp(1.0, -22));
    CHECK(worst_error({1e20F, -3e19F, 0.0F}, 48000) <= 1e20 * std::ldexp(1.0, -22));
}

// RFC 9639 (the FLAC format), sections 6, 8.1 and 8.2: the marker, then the streaminfo block, whose
// bits 80 to 99 are the rate, then 3 of channels - 1, 5 of bits - 1, 36 of the number of samples.
TEST_CASE("a recording is a FLAC file: one channel of 24 bits, its rate and length in the header") {
    const auto bytes = encode_recording(noise(12345, 0.5), 96000);
    const auto at = [&](std::size_t i) { return std::to_integer<unsigned>(bytes.at(i)); };
    CHECK((at(0) == 'f' && at(1) == 'L' && at(2) == 'a' && at(3) == 'C'));
    CHECK((at(4) & 0x7fU) == 0U);
    const std::size_t fields = 8 + 10;
    CHECK(((at(fields) << 12U) | (at(fields + 1) << 4U) | (at(fields + 2) >> 4U)) == 96000U);
    CHECK(((at(fields + 2) >> 1U) & 7U) == 0U);
    CHECK((((at(fields + 2) & 1U) << 4U) | (at(fields + 3) >> 4U)) == 23U);
    CHECK(((at(fields + 6) << 8U) | at(fields + 7)) == 12345U);
}

TEST_CASE("the same samples give the same bytes, other samples others") {
    const auto samples = noise(3000, 0.5);
    auto other = samples;
    other[1500] += 1e-4F;
    CHECK(encode_recording(samples, 48000) == encode_recording(samples, 48000));
    CHECK(encode_recording(samples, 48000) != encode_recording(other, 48000));
    CHECK(encode_recording(samples, 48000) != encode_recording(samples, 44100));
}

TEST_CASE("what a recording says of itself comes back, whatever its scale") {
    for (const double loudest : {0.5, 5.0}) {
        const auto bytes = encode_recording(noise(3000, loudest), 48000, "spot centre; é");
        CHECK(decode_recording(bytes).description == "spot centre; é");
    }
    CHECK(decode_recording(encode_recording(noise(3000, 5.0), 48000)).description.empty());
}

TEST_CASE("what is no sound is refused, and a damaged recording is not read") {
    CHECK_THROWS_AS(encode_recording({}, 48000), std::invalid_argument);
    CHECK_THROWS_AS(encode_recording(std::vector<float>{0.1F}, 0), std::invalid_argument);
    CHECK_THROWS_AS(encode_recording(std::vector<float>{0.1F}, 700000), std::invalid_argument);
    const float none = std::numeric_limits<float>::quiet_NaN();
    CHECK_THROWS_AS(encode_recording(std::vector<float>{0.1F, none}, 48000), std::invalid_argument);
    CHECK_THROWS_AS(decode_recording({}), base::Failure);
    auto bytes = encode_recording(noise(20000, 0.5), 48000);
    bytes.resize(bytes.size() / 2);
    CHECK_THROWS_AS(decode_recording(bytes), base::Failure);
}

TEST_CASE(
    "a hammer's force is kept beside the sound, with its newtons, and is not scaled with it") {
    const HammerForce force{noise(5000, 0.9), 222.5};
    for (const double loudest : {0.5, 5.0}) { // beyond full scale the sound alone is scaled
        const auto samples = noise(5000, loudest);
        const Sound sound =
            decode_recording(encode_recording(samples, 48000, "spot centre", force));
        CHECK(sound.description == "spot centre");
        CHECK(sound.force.newton == 222.5);
        REQUIRE(sound.force.samples.size() == 5000);
        REQUIRE(sound.samples.size() == 5000);
        for (std::size_t i = 0; i < 5000; i += 7) {
            CHECK(sound.force.samples[i] == Approx(force.samples[i]).margin(std::ldexp(1.0, -23)));
            CHECK(sound.samples[i] == Approx(samples[i]).margin(std::ldexp(1.0, -20)));
        }
    }
    const Sound unknown =
        decode_recording(encode_recording(noise(300, 0.5), 48000, "x", {noise(300, 2.0), 0}));
    CHECK(unknown.force.newton == 0);
    CHECK(unknown.description == "x");
    CHECK(unknown.force.samples.size() == 300);
    CHECK(decode_recording(encode_recording(noise(300, 0.5), 48000)).force == HammerForce{});
    CHECK_THROWS_AS(encode_recording(noise(300, 0.5), 48000, {}, {noise(299, 0.5), 0}),
                    std::invalid_argument);
}
