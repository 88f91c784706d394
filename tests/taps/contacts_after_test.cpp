// A second contact under a ring, told from a voice under it.

#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>
#include <vector>

using namespace platewright;

namespace {

constexpr double k_contacts_rate_hz = 48000;
constexpr double k_strike_s = 1, k_length_s = 2.6;

std::size_t at(double seconds) { return static_cast<std::size_t>(seconds * k_contacts_rate_hz); }

std::vector<double> struck_plate(synth::Normal& normal) {
    std::vector<double> sound(at(k_length_s));
    synth::add_noise(sound, 1e-4, normal);
    synth::add_strike(
        sound, k_contacts_rate_hz, at(k_strike_s),
        std::vector<synth::Ring>{{116, 50, 0.09, 0.3}, {172, 60, 0.15, 1}, {352, 65, 0.3, 2}});
    return sound;
}

/// Adds what a source drives two formants to; its loudest sample is `peak`, it fades out.
template <class Source>
void add_spoken(std::vector<double>& sound, double from_s, double to_s, double peak,
                Source source) {
    std::vector<double> spoken(sound.size());
    for (const auto& [hz, q] : {std::pair{600.0, 8.0}, std::pair{1150.0, 12.0}}) {
        const double angle = 2 * std::numbers::pi * hz / k_contacts_rate_hz,
                     radius = std::exp(-angle / (2 * q));
        double one = 0, two = 0;
        for (std::size_t n = at(from_s); n < sound.size(); ++n) {
            const double left_s = to_s - static_cast<double>(n) / k_contacts_rate_hz;
            const double x = std::clamp(left_s / 0.08, 0.0, 1.0) * source(n) +
                             2 * radius * std::cos(angle) * one - radius * radius * two;
            spoken[n] += x;
            two = one;
            one = x;
        }
    }
    double loudest = 0;
    for (const double x : spoken)
        loudest = std::max(loudest, std::abs(x));
    for (std::size_t n = 0; n < sound.size(); ++n)
        sound[n] += peak / loudest * spoken[n];
}

/// A vowel: glottal pulses whose pitch glides (the source-filter model of speech; Fant 1960, from
/// memory).
void add_vowel(std::vector<double>& sound, double pitch_hz, double from_s, double to_s,
               double peak) {
    double phase = 0;
    add_spoken(sound, from_s, to_s, peak, [&, from = at(from_s)](std::size_t n) {
        const double along = static_cast<double>(n - from) / k_contacts_rate_hz;
        phase += pitch_hz * (1 - 0.15 * along) / k_contacts_rate_hz;
        if (phase < 1)
            return 0.0;
        phase -= 1;
        return 1.0;
    });
}

/// Adds a second contact, so much weaker than the first, with the noise of a contact.
void touch(std::vector<double>& sound, double again_s, double weaker, double noise_s,
           synth::Normal& normal) {
    synth::add_strike(sound, k_contacts_rate_hz, at(k_strike_s + again_s),
                      std::vector<synth::Ring>{{116, 50, 0.05 * weaker, 0.3},
                                               {172, 60, 0.07 * weaker, 2},
                                               {352, 65, 0.12 * weaker, 1}});
    for (std::size_t n = 0; n < at(0.1); ++n)
        sound[at(k_strike_s + again_s) + n] +=
            0.06 * weaker * normal() *
            std::exp(-static_cast<double>(n) / (noise_s * k_contacts_rate_hz));
}

/// Of the strike; what else sounds may be heard as taps of its own.
std::string verdict(const std::vector<double>& sound) {
    taps::Detector detector(k_contacts_rate_hz);
    auto taps = detector.push(synth::to_floats(sound));
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    const auto strike = std::ranges::find_if(
        taps, [](const taps::Tap& tap) { return std::abs(tap.onset_s() - k_strike_s) < 0.005; });
    return strike == taps.end() ? "not heard" : std::string(taps::to_word(strike->verdict));
}

} // namespace

TEST_CASE("a syllable or a word that begins 30 dB under a ring is no second contact") {
    const double pitch_hz = GENERATE(80.0, 95.0, 110.0);
    const double length_s = GENERATE(0.1, 0.2);
    CAPTURE(pitch_hz, length_s);
    synth::Normal normal(61);
    auto sound = struck_plate(normal);
    add_vowel(sound, pitch_hz, 1.2, 1.2 + length_s, 0.012);
    CHECK(verdict(sound) == "accepted");
}

TEST_CASE("what hisses before the strike, and again under its ring, is no second contact") {
    const double every_s = GENERATE(0.13, 0.21);
    CAPTURE(every_s);
    synth::Normal normal(62);
    auto sound = struck_plate(normal);
    // Single consonants, each a burst of some milliseconds.
    add_spoken(sound, 0.3, 2.5, 0.017, [&](std::size_t n) {
        const double t = std::fmod(static_cast<double>(n) / k_contacts_rate_hz, every_s);
        return normal() * std::exp(-t / 0.002);
    });
    CHECK(verdict(sound) == "accepted");
}

TEST_CASE("a ring that is cut off where the tap ends, two seconds on, was not struck again") {
    const double cut_s = GENERATE(1.997, 1.998, 1.999, 2.0);
    CAPTURE(cut_s);
    synth::Normal normal(67);
    std::vector<double> sound(at(3.5));
    synth::add_strike(sound, k_contacts_rate_hz, at(k_strike_s),
                      std::vector<synth::Ring>{{373, 2500, 0.3, 0.3}, {1490, 1500, 0.1, 1}});
    std::fill(sound.begin() + static_cast<std::ptrdiff_t>(at(k_strike_s + cut_s)), sound.end(),
              0.0);
    synth::add_noise(sound, 1e-4, normal);
    CHECK(verdict(sound) == "accepted");
}

TEST_CASE("a second contact 11 dB over what a voice leaves unforeseen is heard") {
    const double again_s = GENERATE(0.06, 0.2);
    CAPTURE(again_s);
    synth::Normal normal(63);
    auto sound = struck_plate(normal);
    add_vowel(sound, 130, 0.3, 2.5, 0.0105);
    touch(sound, again_s, 0.04, 0.001, normal);
    CHECK(verdict(sound) == "struck_twice");
}

TEST_CASE("a second contact whose noise dies away in some 20 ms is heard") {
    synth::Normal normal(64);
    auto sound = struck_plate(normal);
    touch(sound, 0.12, 0.1, 0.012, normal);
    CHECK(verdict(sound) == "struck_twice");
}

TEST_CASE("a second contact is heard though a syllable follows it") {
    synth::Normal normal(65);
    auto sound = struck_plate(normal);
    touch(sound, 0.12, 0.05, 0.001, normal);
    add_vowel(sound, 110, 1.25, 1.35, 0.012);
    CHECK(verdict(sound) == "struck_twice");
}

TEST_CASE("a second contact is heard though a lossy codec spread noise ahead of the strike") {
    synth::Normal normal(66);
    auto sound = struck_plate(normal);
    for (std::size_t n = at(k_strike_s - 0.02); n < at(k_strike_s); ++n)
        sound[n] += 0.013 * normal();
    touch(sound, 0.12, 0.1, 0.001, normal);
    CHECK(verdict(sound) == "struck_twice");
}
