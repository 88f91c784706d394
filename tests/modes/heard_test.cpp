// From samples to the last verdict, as bench/ puts it together: the detector's, then the fit's.

#include "modes/estimate/fit.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

using namespace platewright;

namespace {

struct Room {
    double rate_hz = 48000;
    double seconds = 3;
    double noise = 3e-4;
};

std::vector<double> quiet(const Room& room, synth::Normal& normal) {
    std::vector<double> sound(static_cast<std::size_t>(room.seconds * room.rate_hz));
    synth::add_noise(sound, room.noise, normal);
    return sound;
}

/// The last verdict on each tap, as words.
std::vector<std::string> verdicts(const std::vector<double>& sound, double rate_hz = 48000,
                                  double high_hz = 2500) {
    taps::Detector detector(rate_hz, {.high_hz = high_hz});
    auto taps = detector.push(synth::to_floats(sound));
    for (taps::Tap& tap : detector.finish())
        taps.push_back(std::move(tap));
    std::vector<std::string> words;
    for (const taps::Tap& tap : taps) {
        words.emplace_back(taps::to_word(tap.verdict));
        if (tap.verdict != taps::Verdict::accepted)
            continue;
        const modes::FitStatus status = modes::fit_tap(tap, {.high_hz = high_hz}).status;
        words.back() = status == modes::FitStatus::ok        ? "accepted"
                       : status == modes::FitStatus::no_ring ? "no_ring"
                                                             : "too_short";
    }
    return words;
}

const std::vector<synth::Ring> k_plate{
    {116, 50, 0.09, 0.3}, {172, 60, 0.15, 1}, {352, 65, 0.3, 2}, {701, 70, 0.1, 0}};

std::vector<synth::Ring> damped(double q) {
    std::vector<synth::Ring> rings = k_plate;
    for (synth::Ring& ring : rings)
        ring.q = q;
    return rings;
}

/// The same modes, otherwise excited.
std::vector<synth::Ring> elsewhere(double weaker_db, synth::Normal& normal) {
    std::vector<synth::Ring> rings = k_plate;
    for (synth::Ring& ring : rings) {
        ring.amplitude *= std::pow(10.0, -weaker_db / 20) * (0.4 + 1.2 * normal.uniform());
        ring.phase = 6.28 * normal.uniform();
    }
    return rings;
}

} // namespace

TEST_CASE("a held plate is a plate: where little is in doubt it is accepted from a Q of 8 up") {
    const double q = GENERATE(8.0, 10.0, 15.0, 20.0, 30.0, 100.0);
    CAPTURE(q);
    synth::Normal normal(41);
    auto sound = quiet({}, normal);
    synth::add_strike(sound, 48000, 48000, damped(q));
    CHECK(verdicts(sound) == std::vector<std::string>{"accepted"});
}

TEST_CASE("whether it rings does not hang on the band's upper edge") {
    const double high_hz = GENERATE(1200.0, 2500.0, 2900.0, 4000.0, 6000.0, 10000.0);
    CAPTURE(high_hz);
    synth::Normal normal(42);
    auto sound = quiet({}, normal);
    auto rings = k_plate;
    rings.push_back({2100, 12, 0.05, 0}); // and a click's worth of what dies at once, far up
    rings.push_back({5100, 9, 0.1, 0});
    synth::add_strike(sound, 48000, 48000, rings);
    CHECK(verdicts(sound, 48000, high_hz) == std::vector<std::string>{"accepted"});
}

TEST_CASE(
    "a knock, and a knock whose echo dies as slowly as a plate rings, is no ring at any rate") {
    const double rate_hz = GENERATE(8000.0, 44100.0, 192000.0);
    const double dies_s = GENERATE(0.002, 0.0625);
    CAPTURE(rate_hz, dies_s);
    synth::Normal normal(43);
    auto sound = quiet({.rate_hz = rate_hz}, normal);
    const auto from = static_cast<std::size_t>(rate_hz);
    for (std::size_t n = from; n < sound.size(); ++n)
        sound[n] += 0.2 * normal() * std::exp(-static_cast<double>(n - from) / rate_hz / dies_s);
    for (const std::string& verdict : verdicts(sound, rate_hz))
        CHECK(verdict != "accepted");
}

TEST_CASE("a single strike with a real contact's noise is accepted") {
    int wrong = 0;
    for (std::uint32_t seed = 1; seed <= 40; ++seed) {
        synth::Normal normal(seed);
        auto sound = quiet({}, normal);
        synth::add_strike(sound, 48000, 48000, elsewhere(0, normal));
        // As a real bar or plate has it: much that no sum of a few modes foresees, dying away.
        for (std::size_t n = 0; n < 9600; ++n)
            sound[48000 + n] +=
                0.1 * normal() * std::exp(-static_cast<double>(n) / (0.004 * 48000));
        wrong += verdicts(sound) == std::vector<std::string>{"accepted"} ? 0 : 1;
    }
    CHECK(wrong <= 1);
}
