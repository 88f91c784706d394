#include "support/catch.hpp"
#include "taps/onset/detector.hpp"

#include <cmath>
#include <numbers>
#include <random>

using namespace platewright::taps;

namespace {

constexpr double k_rate_hz = 48000;

/// A quiet room: white noise of the given RMS.
std::vector<float> room(double seconds, double rms, unsigned seed) {
    std::mt19937 random(seed);
    std::normal_distribution<double> normal(0, rms);
    std::vector<float> samples(static_cast<std::size_t>(seconds * k_rate_hz));
    for (float& s : samples)
        s = static_cast<float>(normal(random));
    return samples;
}

/// Adds a strike on a plate of three modes at `at_s`; `seconds` later a hand stops it.
void strike(std::vector<float>& into, double at_s, double amplitude, double seconds = 5) {
    struct Line {
        double hz, q, share;
    };
    const auto from = static_cast<std::size_t>(at_s * k_rate_hz);
    for (const Line& line : {Line{116, 50, 0.3}, Line{172, 60, 0.5}, Line{352, 65, 1.0}})
        for (std::size_t n = from; n < into.size(); ++n) {
            const double t = static_cast<double>(n - from) / k_rate_hz;
            if (t > seconds)
                break;
            into[n] += static_cast<float>(amplitude * line.share *
                                          std::exp(-std::numbers::pi * line.hz / line.q * t) *
                                          std::sin(2 * std::numbers::pi * line.hz * t));
        }
}

/// What white noise of 3e-4 comes to in the band of 40 to 2500 Hz, in dBFS; its lower fifth, a
/// little less.
double noise_in_band_db(double rate_hz) {
    // A second-order low-pass of corner f has the noise bandwidth 1.11 f (Butterworth; any text on
    // filters).
    const double share = std::min(1.0, 1.11 * 2500 / (rate_hz / 2));
    constexpr double quietest = -85; // no microphone's own noise is less
    return std::max(quietest, 20 * std::log10(3e-4) + 10 * std::log10(share) - 0.5);
}

std::vector<Tap> detect(std::span<const float> samples, std::size_t block = 480) {
    Detector detector(k_rate_hz);
    std::vector<Tap> taps;
    for (std::size_t at = 0; at < samples.size(); at += block)
        for (Tap& tap : detector.push(samples.subspan(at, std::min(block, samples.size() - at))))
            taps.push_back(std::move(tap));
    for (Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    return taps;
}

} // namespace

TEST_CASE("each clean strike is accepted once, its onset within a millisecond") {
    auto sound = room(8, 3e-4, 1);
    for (const double at : {1.0, 2.5, 4.123, 6.0})
        strike(sound, at, 0.3);
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 4);
    for (std::size_t i = 0; i < 4; ++i) {
        CHECK(to_text(taps[i].verdict) == "accepted");
        CHECK(std::abs(taps[i].onset_s() - std::array{1.0, 2.5, 4.123, 6.0}[i]) < 0.001);
        CHECK(taps[i].onset_index == Approx(0.25 * k_rate_hz));
        CHECK(taps[i].samples.size() > 24000);
    }
}

TEST_CASE("a single strike in a very quiet room is not taken for two") {
    // As a real bar or plate has it: much that no sum of a few modes foresees, dying away.
    auto sound = room(2.5, 3e-5, 7);
    strike(sound, 1.0, 0.3);
    std::mt19937 random(8);
    std::normal_distribution<double> normal;
    for (std::size_t n = 0; n < 10000; ++n)
        sound[48000 + n] += static_cast<float>(
            0.15 * normal(random) * std::exp(-static_cast<double>(n) / (0.015 * k_rate_hz)));
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 1);
    CHECK(to_text(taps[0].verdict) == "accepted");
}

TEST_CASE("a strike written down in eight bits is not clipped, unless it is") {
    const double amplitude = GENERATE(0.35, 1.5);
    auto sound = room(3, 1e-3, 9);
    strike(sound, 1.0, amplitude);
    for (float& s : sound)
        s = std::clamp(std::round(s * 128.0F), -128.0F, 127.0F) / 128.0F;
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 1);
    CHECK(to_text(taps[0].verdict) == (amplitude < 1 ? "accepted" : "clipped"));
}

TEST_CASE("the answer does not depend on the size of the blocks") {
    auto sound = room(4, 1e-3, 2);
    strike(sound, 1.0, 0.3);
    strike(sound, 2.6, 0.1);
    const auto whole = detect(sound, sound.size());
    for (const std::size_t block : {1U, 64U, 4096U}) {
        const auto taps = detect(sound, block);
        REQUIRE(taps.size() == whole.size());
        for (std::size_t i = 0; i < taps.size(); ++i) {
            CHECK(taps[i].onset_frame == whole[i].onset_frame);
            CHECK(taps[i].samples == whole[i].samples);
            CHECK(taps[i].verdict == whole[i].verdict);
        }
    }
}

TEST_CASE("a refused strike says why") {
    auto sound = room(4, 5e-4, 3);
    SECTION("struck twice") {
        const double again_s = GENERATE(0.04, 0.08, 0.15, 0.25);
        strike(sound, 1.0, 0.3);
        strike(sound, 1.0 + again_s, 0.12);
        const auto taps = detect(sound);
        CAPTURE(again_s);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "struck twice");
    }
    SECTION("clipped") {
        strike(sound, 1.0, 2.0);
        for (float& s : sound)
            s = std::clamp(s, -1.0F, 1.0F);
        const auto taps = detect(sound);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "clipped");
    }
    SECTION("stopped too soon") {
        strike(sound, 1.0, 0.3, 0.10);
        const auto taps = detect(sound);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "too short");
    }
    SECTION("stopped at once, where the room is 25 dB under it") {
        // A mode that dies by 8 dB in 40 ms of itself: 25 dB are far more than that.
        sound = room(4, 9e-3, 3);
        for (std::size_t n = 48000; n < 48000 + 2880; ++n) {
            const double t = static_cast<double>(n - 48000) / k_rate_hz;
            sound[n] += static_cast<float>(0.3 * std::exp(-23 * t) *
                                           std::sin(2 * std::numbers::pi * 350 * t));
        }
        auto taps = detect(sound);
        std::erase_if(taps, begins_with_stream);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "too short");
    }
    SECTION("noise just before it") {
        std::mt19937 random(4);
        std::normal_distribution<double> normal(0, 0.15); // 14 dB under the strike, in the band
        for (std::size_t n = 40800; n < 46560; ++n)
            sound[n] += static_cast<float>(normal(random));
        strike(sound, 1.0, 0.3);
        const auto taps = detect(sound);
        REQUIRE_FALSE(taps.empty());
        CHECK(to_text(taps.back().verdict) == "noise just before it");
    }
}

TEST_CASE(
    "a strike with a lossy codec's noise ahead of it is one strike, and begins where it does") {
    for (const double lead_s : {0.005, 0.009, 0.014, 0.018}) {
        auto sound = room(4, 1e-4, 3);
        std::mt19937 random(4);
        std::normal_distribution<double> normal(0, 0.02); // in the band 30 dB under the strike
        for (auto n = static_cast<std::size_t>((1 - lead_s) * k_rate_hz); n < 48000; ++n)
            sound[n] += static_cast<float>(normal(random));
        strike(sound, 1.0, 0.5);
        const auto taps = detect(sound);
        CAPTURE(lead_s);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "accepted");
        CHECK(std::abs(taps[0].onset_s() - 1.0) < 0.002);
    }
}

TEST_CASE("a light touch just before the strike, strong enough to set the plate ringing, is a "
          "contact of its own") {
    auto sound = room(4, 1e-4, 3);
    strike(sound, 0.984, 0.08);
    strike(sound, 1.0, 0.5); // 16 dB stronger
    for (const Tap& tap : detect(sound))
        CHECK(to_text(tap.verdict) != "accepted");
}

TEST_CASE("noise 20 dB under the strike is no reason to refuse it") {
    auto sound = room(4, 5e-4, 3);
    std::mt19937 random(4);
    std::normal_distribution<double> normal(0, 0.06);
    for (std::size_t n = 40800; n < 46560; ++n)
        sound[n] += static_cast<float>(normal(random));
    strike(sound, 1.0, 0.3);
    const auto taps = detect(sound);
    REQUIRE_FALSE(taps.empty());
    CHECK(to_text(taps.back().verdict) == "accepted");
}

TEST_CASE(
    "a damped plate is gone in a twentieth of a second and still no weak strike, a faint one is") {
    // Two modes of Q 10: T60 is 0.09 and 0.05 s.
    const double amplitude = GENERATE(0.1, 0.0008);
    auto sound = room(3, 3e-4, 15);
    for (std::size_t n = 48000; n < sound.size(); ++n) {
        const double t = static_cast<double>(n - 48000) / k_rate_hz;
        for (const double hz : {250.0, 430.0})
            sound[n] += static_cast<float>(amplitude * std::exp(-std::numbers::pi * hz / 10 * t) *
                                           std::sin(2 * std::numbers::pi * hz * t));
    }
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 1);
    CHECK(to_text(taps[0].verdict) == (amplitude > 0.01 ? "accepted" : "too weak"));
}

TEST_CASE("strikes half a second apart are each accepted: the ring of the one before is no noise") {
    auto sound = room(5, 3e-4, 13);
    for (const double at : {1.0, 1.5, 2.0, 2.5, 3.0})
        strike(sound, at, 0.3);
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 5);
    for (const Tap& tap : taps)
        CHECK(to_text(tap.verdict) == "accepted");
}

TEST_CASE("strikes 0.4 s apart are each accepted, soft ones after loud ones too") {
    auto sound = room(5, 3e-4, 13);
    const double soft = 0.09; // 0.25 s before it the loud one's ring is 8 dB under it
    for (const double at : {1.0, 1.8, 2.6})
        strike(sound, at, 0.4);
    for (const double at : {1.4, 2.2, 3.0})
        strike(sound, at, soft);
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 6);
    for (const Tap& tap : taps)
        CHECK(to_text(tap.verdict) == "accepted");
}

TEST_CASE("samples lost in the ring refuse the tap, and time goes on") {
    auto sound = room(4, 3e-4, 6);
    strike(sound, 1.0, 0.3);
    strike(sound, 2.5, 0.3);
    Detector detector(k_rate_hz);
    const std::span all{sound};
    auto taps = detector.push(all.first(52000));
    for (auto& tap : detector.gap(2000))
        taps.push_back(std::move(tap));
    for (auto& tap : detector.push(all.subspan(54000)))
        taps.push_back(std::move(tap));
    REQUIRE(taps.size() == 2);
    CHECK(taps[0].verdict == Verdict::gap);
    CHECK(taps[1].verdict == Verdict::accepted);
    CHECK(std::abs(taps[1].onset_s() - 2.5) < 0.001);
}

TEST_CASE("while it rings the tap can be seen as far as it has come") {
    auto sound = room(2, 3e-4, 7);
    strike(sound, 1.0, 0.3);
    Detector detector(k_rate_hz);
    const std::span all{sound};
    CHECK(detector.push(all.first(48000)).empty());
    CHECK_FALSE(detector.ringing());
    CHECK(detector.ringing_s() == 0);
    CHECK(detector.push(all.subspan(48000, 7680)).empty());
    REQUIRE(detector.ringing());
    CHECK(detector.ringing_s() == Approx(0.16).margin(0.001));
    CHECK(detector.ringing()->onset_s() == Approx(1.0).margin(0.001));
    CHECK(detector.ringing()->verdict == Verdict::accepted);
}

TEST_CASE("a steady room gives no taps but what it begins with, which may be a strike's ring") {
    for (const unsigned seed : {8U, 9U, 10U}) {
        const auto taps = detect(room(20, 0.01, seed));
        CHECK(taps.size() <= 1);
        CHECK(std::ranges::all_of(taps, begins_with_stream));
    }
}

TEST_CASE("a strike soon after a recording begins is the first contact, whatever room it began "
          "with") {
    for (const double lead_s : {0.003, 0.008, 0.011, 0.015, 0.019, 0.030}) {
        CAPTURE(lead_s);
        auto sound = room(2, 1e-3, 21);
        strike(sound, lead_s, 0.3);
        const auto taps = detect(sound);
        REQUIRE(taps.size() == 1);
        CHECK(to_text(taps[0].verdict) == "accepted");
        CHECK(std::abs(taps[0].onset_s() - lead_s) < 0.004);
    }
}

TEST_CASE("a strike on the very first sample of a recording is found") {
    std::vector<float> sound(96000, 0.0F);
    strike(sound, 0.0, 0.3);
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 1);
    CHECK(taps[0].verdict == Verdict::accepted);
    CHECK(taps[0].onset_frame < 100);
}

TEST_CASE("from 8 to 384 kHz a strike is accepted, and the room before it has its level") {
    const double rate_hz = GENERATE(8000.0, 16000.0, 44100.0, 96000.0, 192000.0, 384000.0);
    CAPTURE(rate_hz);
    std::mt19937 random(14);
    std::normal_distribution<double> normal;
    std::vector<float> sound(static_cast<std::size_t>(3 * rate_hz));
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = static_cast<double>(n) / rate_hz;
        double x = 3e-4 * normal(random);
        for (const auto& [hz, q] :
             {std::pair{116.0, 50.0}, std::pair{172.0, 60.0}, std::pair{352.0, 65.0}})
            if (t >= 1)
                x += 0.1 * std::exp(-std::numbers::pi * hz / q * (t - 1)) *
                     std::sin(2 * std::numbers::pi * hz * (t - 1));
        sound[n] = static_cast<float>(x);
    }
    Detector detector(rate_hz);
    auto taps = detector.push(sound);
    for (Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    REQUIRE(taps.size() == 1);
    CHECK(to_text(taps[0].verdict) == "accepted");
    CHECK(std::abs(taps[0].onset_s() - 1) < 0.001);
    CHECK(taps[0].noise_dbfs == Approx(noise_in_band_db(rate_hz)).margin(1.5));
}

TEST_CASE("a soft strike in hum is found where it begins, not where it stands out of the hum") {
    auto sound = room(3, 1e-4, 16);
    for (std::size_t n = 0; n < sound.size(); ++n)
        sound[n] += static_cast<float>(
            0.02 * std::sin(2 * std::numbers::pi * 50 * static_cast<double>(n) / k_rate_hz));
    // A contact of 4 ms: the force, and with it the sound, comes in like a square.
    for (std::size_t n = 48000; n < sound.size(); ++n) {
        const double t = static_cast<double>(n - 48000) / k_rate_hz;
        const double in = std::min(1.0, t / 0.004);
        for (const double hz : {116.0, 172.0, 352.0})
            sound[n] +=
                static_cast<float>(0.2 * in * in * std::exp(-std::numbers::pi * hz / 60 * t) *
                                   std::cos(2 * std::numbers::pi * hz * t));
    }
    auto taps = detect(sound);
    std::erase_if(taps, begins_with_stream); // the hum
    REQUIRE(taps.size() == 1);
    CAPTURE(taps[0].onset_s());
    CHECK(std::abs(taps[0].onset_s() - 1.0) < 0.0006);
}

TEST_CASE(
    "a strike 11 or 13 dB over mains hum is as good as in the quiet, over noise it is too weak") {
    for (const double mains_hz : {50.0, 60.0})
        for (const double hum_db : {-11.0, -13.0}) {
            CAPTURE(mains_hz, hum_db);
            std::vector<float> quiet(3 * 48000, 0.0F);
            strike(quiet, 1.5, 0.2);
            double squares = 0;
            for (const float x : std::span{quiet}.subspan(72000, 960))
                squares += static_cast<double>(x) * static_cast<double>(x);
            const double loudest = std::sqrt(squares / 960);
            const double level = loudest * std::pow(10, hum_db / 20);
            auto in_hum = room(3, 1e-4, 23);
            for (std::size_t n = 0; n < in_hum.size(); ++n) {
                const double t = static_cast<double>(n) / k_rate_hz;
                for (const int k : {1, 2, 3, 5}) // so many of its harmonics, as loud together
                    in_hum[n] += static_cast<float>(
                        level / std::sqrt(2.0) *
                        std::sin(2 * std::numbers::pi * k * mains_hz * t + 0.7 * k));
                in_hum[n] += quiet[n];
            }
            auto taps = detect(in_hum);
            std::erase_if(taps, begins_with_stream);
            REQUIRE(taps.size() == 1);
            CHECK(to_text(taps[0].verdict) == "accepted");
            CHECK(std::abs(taps[0].onset_s() - 1.5) < 0.002);

            auto in_noise = room(3, level * 3, 24); // a third of it lies in the band
            for (std::size_t n = 0; n < in_noise.size(); ++n)
                in_noise[n] += quiet[n];
            for (const Tap& tap : detect(in_noise))
                CHECK((begins_with_stream(tap) || tap.verdict == Verdict::too_weak));
        }
}

TEST_CASE("a wrong rate or band is refused") {
    CHECK_THROWS_AS(Detector(4000), std::invalid_argument);
    CHECK_THROWS_AS(Detector(48000, {.low_hz = 500, .high_hz = 100}), std::invalid_argument);
}

TEST_CASE("a loud strike that the stream begins with is told, though it is clipped") {
    auto sound = room(2.5, 3e-4, 31);
    strike(sound, 0.004, 3.0);
    for (float& s : sound)
        s = std::clamp(s, -1.0F, 1.0F);
    const auto taps = detect(sound);
    REQUIRE(taps.size() == 1);
    CHECK(to_text(taps[0].verdict) == "clipped");
}

TEST_CASE("a touch of the hand some milliseconds before the strike is not where it begins") {
    for (const double before_s : {0.006, 0.008, 0.015})
        for (const double size : {0.002, 0.004, 0.008}) {
            auto sound = room(2.5, 1e-4, 32);
            strike(sound, 1.0, 0.3);
            strike(sound, 1.0 - before_s, size, 0.002);
            const auto taps = detect(sound);
            CAPTURE(before_s, size);
            REQUIRE(taps.size() == 1);
            CHECK(to_text(taps[0].verdict) == "accepted");
            CHECK(std::abs(taps[0].onset_s() - 1.0) < 0.001);
        }
}
