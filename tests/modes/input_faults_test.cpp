// What the input does to a strike: gain that moves, a stage that bends. The gain and the bend are
// made here, sample by sample; another program's compressor is tried in
// tests/whole/input_faults.py.

#include "modes/estimate/fit.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <vector>

using namespace platewright;
using modes::InputEvidence;

namespace {

const std::vector<synth::Ring> k_bent_plate{
    {116, 50, 0.09, 0.3}, {172, 60, 0.15, 1}, {352, 65, 0.3, 2}, {701, 70, 0.1, 0}};

/// Taps of one plate, each through the same input.
std::vector<modes::Fit> through(const std::function<void(taps::Tap&)>& input, int count = 3) {
    synth::Normal normal(7);
    std::vector<modes::Fit> fits;
    for (int i = 0; i < count; ++i) {
        taps::Tap tap = synth::tap(k_bent_plate, normal, {.noise = 1e-3});
        input(tap);
        fits.push_back(modes::fit_tap(tap));
    }
    return fits;
}

modes::InputFaults faults_of(const std::vector<modes::Fit>& fits) {
    std::vector<InputEvidence> evidence;
    for (const modes::Fit& fit : fits)
        evidence.push_back(fit.input);
    return modes::input_faults(evidence);
}

void straight(taps::Tap&) {}

/// Follows the peak within a millisecond, lets go within half a second, holds loud sound down.
void automatic_gain(taps::Tap& tap) {
    const double attack = std::exp(-1 / (0.001 * tap.sample_rate_hz)),
                 release = std::exp(-1 / (0.5 * tap.sample_rate_hz));
    double peak = 1e-3;
    for (float& x : tap.samples) {
        const double size = std::abs(static_cast<double>(x));
        const double keep = size > peak ? attack : release;
        peak = keep * peak + (1 - keep) * size;
        x *= static_cast<float>(0.05 / std::max(0.05, peak));
    }
}

void bend(taps::Tap& tap) {
    for (float& x : tap.samples)
        x = 0.3F * std::tanh(x / 0.25F);
}

const modes::Partial* near(const modes::Fit& fit, double hz) {
    const auto found = std::ranges::find_if(fit.partials, [&](const modes::Partial& p) {
        return std::abs(p.frequency_hz - hz) < 0.01 * hz;
    });
    return found == fit.partials.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("a straight input is not suspected, whatever stands in the room") {
    CHECK(faults_of(through(straight)) == modes::InputFaults{});
    CHECK(faults_of(through([](taps::Tap& tap) { // mains hum, 10 dB over the noise
              for (std::size_t n = 0; n < tap.samples.size(); ++n)
                  tap.samples[n] += static_cast<float>(
                      0.0045 * std::sin(2 * 3.14159265 * 100 * static_cast<double>(n) / 48000));
          })) == modes::InputFaults{});
}

TEST_CASE(
    "where the strike before still rings, or someone talks, the floor before tells of no gain") {
    // The ring of the strike before falls by 9 dB in the pre-roll, and stands 20 dB over the room.
    CHECK(faults_of(through([](taps::Tap& tap) {
              for (std::size_t n = 0; n < tap.samples.size(); ++n) {
                  const double t = static_cast<double>(n) / tap.sample_rate_hz;
                  tap.samples[n] += static_cast<float>(0.02 * std::exp(-4 * t) *
                                                       std::sin(2 * 3.14159265 * 172 * t));
              }
          })) == modes::InputFaults{});
    // Breath and hiss that end 0.1 s before the strike.
    synth::Normal normal(3);
    CHECK(faults_of(through([&](taps::Tap& tap) {
              for (std::size_t n = 0; n < tap.onset_index - 4800; ++n)
                  tap.samples[n] += static_cast<float>(0.006 * normal());
          })) == modes::InputFaults{});
}

TEST_CASE("a gain that a strike presses down is told, and Q's intervals hold what it was") {
    const auto fits = through(automatic_gain);
    CHECK(faults_of(fits).moves_gain);
    for (const modes::Fit& fit : fits)
        for (const synth::Ring& ring : k_bent_plate)
            if (const modes::Partial* partial = near(fit, ring.hz); partial != nullptr) {
                INFO(ring.hz << " Hz: Q " << partial->q << " +- " << partial->q_sd);
                CHECK(std::abs(partial->q - ring.q) < 2 * partial->q_sd);
                CHECK(std::abs(partial->frequency_hz - ring.hz) < 0.002 * ring.hz);
            }
}

TEST_CASE("an input that presses loud strikes flat is told, and its products are no modes") {
    const auto fits = through(bend);
    CHECK(faults_of(fits).bends);
    for (const modes::Fit& fit : fits)
        for (const modes::Partial& partial : fit.partials) {
            INFO(partial.frequency_hz << " Hz at " << partial.level_db << " dB");
            CHECK(std::ranges::any_of(k_bent_plate, [&](const synth::Ring& ring) {
                return std::abs(partial.frequency_hz - ring.hz) < 0.02 * ring.hz;
            }));
        }
}

TEST_CASE("the input's bounds stand between what was seen of straight inputs and of others") {
    const auto three = [](InputEvidence evidence) {
        return modes::input_faults(std::vector<InputEvidence>(3, evidence));
    };
    // demo's sessions: -0.5 to 0.3 dB; through a compressor -2.5 to -5 dB
    CHECK_FALSE(three({.floor_db = -1}).moves_gain);
    CHECK(three({.floor_db = -3}).moves_gain);
    // demo's sessions: above -0.15; overdriven threefold -0.3 to -0.8
    CHECK_FALSE(three({.bend = -0.2}).bends);
    CHECK(three({.bend = -0.4}).bends);
    // one odd tap, of a room that was just louder, is no fault of the input, and of two nothing is
    // said
    const InputEvidence odd{.floor_db = -12, .bend = -0.8};
    CHECK(modes::input_faults(std::vector<InputEvidence>{odd, odd}) == modes::InputFaults{});
    CHECK(modes::input_faults(std::vector<InputEvidence>{odd, {}, {}, {}, {}}) ==
          modes::InputFaults{});
    CHECK(three(odd) == modes::InputFaults{true, true});
}

TEST_CASE("figures that suffer say so") {
    const modes::Partial strong{
        .frequency_hz = 350, .frequency_sd_hz = 0.1, .q = 60, .q_sd = 1, .level_db = 0};
    modes::Partial weak = strong;
    weak.level_db = -25;
    modes::Partial middling = strong;
    middling.level_db = -10;
    std::vector<modes::Partial> partials{strong, middling, weak};
    modes::doubt_through({}, partials);
    CHECK(partials == std::vector{strong, middling, weak});
    modes::doubt_through({.bend = -0.6}, partials);
    REQUIRE(partials.size() == 2);
    CHECK(partials[0].q_sd > 5);
    CHECK(partials[0].q_sd < 15);
    std::vector<modes::Partial> moved{strong};
    modes::doubt_through({.floor_db = -6}, moved);
    // exp(6 dB) within one time constant: a factor of two over 1/delta, ln 2 / 2 of the rate
    CHECK(moved[0].q_sd == Approx(60 * std::log(std::pow(10.0, 6.0 / 20)) / 2).epsilon(0.01));
    CHECK(moved[0].frequency_sd_hz ==
          Approx(std::hypot(0.1, 350.0 / 60 / 2 * moved[0].q_sd / 60)).epsilon(0.01));
}

TEST_CASE("a bend is sought while the plate is loud, not in the room's noise after it") {
    synth::Normal normal(9);
    std::vector<synth::Ring> rings;
    std::vector<modes::Partial> partials;
    for (const double hz : {98., 131., 171., 215., 262., 308., 355., 402.}) {
        rings.push_back({hz, 50, 0.1, 6.28 * normal.uniform()});
        partials.push_back({.frequency_hz = hz, .q = 50, .level_db = 0});
    }
    taps::Tap tap = synth::tap(rings, normal, {.noise = 0});
    bend(tap);
    for (float& x : tap.samples) // as loud as the ring after 0.2 s
        x += static_cast<float>(0.02 * normal());
    CHECK(modes::bend_of(tap, partials, {}, 0.005) < -0.4);
}

TEST_CASE("steady noise before a strike and after it is told to be the same to within a decibel") {
    double mean_db = 0;
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        synth::Normal normal(seed);
        modes::Stretches data;
        data.before.resize(1250);
        data.before_first = -1300;
        std::vector<double> left(5000);
        synth::add_noise(data.before, 1, normal);
        synth::add_noise(left, 1, normal);
        mean_db += modes::floor_change_db(data, left, 5000, {}) / 20;
    }
    CHECK(mean_db == Approx(0).margin(0.6));
}

TEST_CASE("a bend that moves no Q by a hundredth is none") {
    const auto bend_at = [](float cubic) {
        synth::Normal normal(5);
        taps::Tap tap = synth::tap({{{172, 60, 0.15, 1}, {352, 65, 0.3, 2}}}, normal, {.noise = 0});
        for (float& x : tap.samples)
            x -= cubic * x * x * x;
        const std::vector<modes::Partial> partials{{.frequency_hz = 352, .q = 65, .level_db = 0},
                                                   {.frequency_hz = 172, .q = 60, .level_db = -6}};
        return modes::bend_of(tap, partials, {}, 0.005);
    };
    CHECK(bend_at(0.1F) == 0); // its products 50 dB down
    CHECK(bend_at(4.0F) < -0.8);
}

TEST_CASE("silence is not bent") {
    taps::Tap tap{.sample_rate_hz = 44100, .samples = std::vector<float>(44100)};
    tap.onset_index = 4410;
    const std::vector<modes::Partial> partials{{.frequency_hz = 352, .q = 65, .level_db = 0}};
    CHECK(modes::bend_of(tap, partials, {}, 0.005) == 0);
}

TEST_CASE("a bend is seen though its products are among the partials") {
    synth::Normal normal(8);
    const std::vector<synth::Ring> rings{{172, 60, 0.15, 1}, {352, 65, 0.3, 2}};
    taps::Tap tap = synth::tap(rings, normal, {.noise = 1e-4});
    bend(tap);
    const auto at = [](double hz, double q, double level_db) {
        return modes::Partial{.frequency_hz = hz, .q = q, .level_db = level_db};
    };
    std::vector<modes::Partial> partials{at(352, 70, 0), at(172, 65, -6)};
    const double seen = modes::bend_of(tap, partials, {}, 0.005);
    CHECK(seen < -0.3);
    // Sums of three of the modes' frequencies, which die three times as soon.
    for (const double hz : {3 * 352., 2 * 352. + 172, 2 * 352. - 172, 2 * 172. + 352})
        partials.push_back(at(hz, 30 * hz / 352, -24));
    CHECK(modes::bend_of(tap, partials, {}, 0.005) == Approx(seen));
}

TEST_CASE("modes that no partial tells are no bend of the input") {
    double least = 0;
    for (std::uint32_t seed = 1; seed <= 20; ++seed) {
        synth::Normal normal(seed);
        std::vector<synth::Ring> rings;
        std::vector<modes::Partial> partials;
        for (const double hz : {98., 171., 262., 308., 355., 402.}) {
            rings.push_back({hz, 50, 0.1, 6.28 * normal.uniform()});
            partials.push_back({.frequency_hz = hz, .q = 50, .level_db = 0});
        }
        for (int untold = 0; untold < 6; ++untold)
            rings.push_back({450 + 800 * normal.uniform(), 50, 0.02, 6.28 * normal.uniform()});
        const taps::Tap tap = synth::tap(rings, normal, {.noise = 1e-4});
        least = std::min(least, modes::bend_of(tap, partials, {}, 0.005));
    }
    CHECK(least > -0.3);
}
