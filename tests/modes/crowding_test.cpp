// What modes that stand close do to each other's figures.
#include "modes/pool/crowding.hpp"
#include "modes/pool/pool.hpp"
#include "support/catch.hpp"
#include "support/synth.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

using namespace platewright;

TEST_CASE("crowding counts neighbours by their distance in half-power widths") {
    const auto mode = [](double hz, double q) { return modes::Mode{.frequency_hz = hz, .q = q}; };
    const std::vector<modes::Mode> modes{mode(300, 30), mode(320, 30), mode(1000, 200)};
    // 10 Hz wide: one at twice that, one at 70 times
    CHECK(modes::crowding(modes, 0) == Approx(std::hypot(10.0 / 20, 10.0 / 700)));
    CHECK(modes::crowding(modes, 2) < 0.02);
    const std::vector<modes::Mode> alone{mode(300, 30)};
    CHECK(modes::crowding(alone, 0) == 0);
    // Two that stand as one are as crowded as two at 0.4 widths: nearer they are joined.
    const std::vector<modes::Mode> same{mode(300, 30), mode(300, 30), mode(304, 30)};
    CHECK(modes::crowding(same, 0) == Approx(2.5));
}

TEST_CASE("a neighbour widens both intervals: at ten widths hardly, at one by half and more") {
    const auto widened = [](double apart_hz) {
        std::vector<modes::Mode> modes(2);
        for (modes::Mode& mode : modes) {
            mode.q = 30; // 10 Hz wide
            mode.frequency_sd_hz = 0.2;
            mode.q_sd = 1;
        }
        modes[0].frequency_hz = 300;
        modes[1].frequency_hz = 300 + apart_hz;
        modes::widen_for_neighbours(modes);
        CHECK(modes[0].q_sd == Approx(modes[0].frequency_sd_hz / 0.2));
        CHECK(modes[1].q_sd > 1);
        return modes[0].q_sd;
    };
    CHECK(widened(100) < 1.02);
    CHECK(widened(10) > 1.5);
    CHECK(widened(10) < 2);
    CHECK(widened(0.1) < 4);
    CHECK(widened(0.1) > 3);
}

namespace {

/// A strike as a hammer of a millisecond gives it, with the thump of its head.
taps::Tap struck_with_hammer(std::vector<synth::Ring> rings, synth::Normal& normal) {
    for (const double hz : {130.0, 310.0})
        rings.push_back({hz, 3, 0.02 * normal(), 1.57});
    taps::Tap tap = synth::tap(rings, normal, {.noise = 0});
    std::vector<float> force(48);
    double sum = 0;
    for (std::size_t n = 0; n < force.size(); ++n) {
        const double x =
            std::pow(std::sin(std::numbers::pi * (static_cast<double>(n) + 0.5) / 48), 1.5);
        force[n] = static_cast<float>(x);
        sum += x;
    }
    std::vector<double> sound(tap.samples.size());
    for (std::size_t n = tap.onset_index; n < sound.size(); ++n)
        for (std::size_t k = 0; k < force.size() && k <= n - tap.onset_index; ++k)
            sound[n] += static_cast<double>(force[k] * tap.samples[n - k]) / sum;
    synth::add_noise(sound, 3e-5, normal, 0.8);
    tap.samples = synth::to_floats(sound);
    return tap;
}

} // namespace

TEST_CASE("intervals of modes that stand a width or two apart hold, of frequency and of Q") {
    // Damped plates, invented. The hold moves each mode by a thousandth.
    int frequencies = 0, frequencies_held = 0, qs_held = 0;
    for (std::uint32_t seed = 1; seed <= 60; ++seed) {
        synth::Normal normal(seed);
        std::vector<synth::Ring> plate;
        for (double hz = 100; hz < 2300; hz += 25 + 75 * normal.uniform())
            plate.push_back({hz, 20 + 30 * normal.uniform(), 0.05 * std::exp(0.8 * normal()),
                             normal() > 0 ? 0 : std::numbers::pi});
        std::vector<modes::FittedTap> taps;
        for (int t = 0; t < 3; ++t) {
            std::vector<synth::Ring> rings = plate;
            for (synth::Ring& ring : rings) {
                ring.hz *= 1 + 0.001 * normal();
                ring.q *= 1 + 0.03 * normal();
                ring.amplitude *= 1 + 0.1 * normal();
                ring.phase += 0.2 * normal();
            }
            taps.push_back({nullptr, taps::Spot::unknown,
                            modes::fit_tap(struck_with_hammer(rings, normal)).partials});
        }
        for (const modes::Mode& mode : modes::pool(taps).modes) {
            const synth::Ring* nearest = nullptr;
            for (const synth::Ring& ring : plate)
                if (nearest == nullptr || std::abs(ring.hz - mode.frequency_hz) <
                                              std::abs(nearest->hz - mode.frequency_hz))
                    nearest = &ring;
            const bool close = std::ranges::any_of(plate, [nearest](const synth::Ring& ring) {
                return &ring != nearest &&
                       std::abs(ring.hz - nearest->hz) < 1.5 * nearest->hz / nearest->q;
            });
            if (!close || mode.level_db < -25 || mode.taps < 2 ||
                std::abs(nearest->hz - mode.frequency_hz) > 0.7 * nearest->hz / nearest->q)
                continue;
            const auto hz = modes::interval(mode.frequency_hz, mode.frequency_sd_hz, mode.taps),
                       q = modes::interval(mode.q, mode.q_sd, mode.taps);
            ++frequencies;
            frequencies_held += hz.low <= nearest->hz && nearest->hz <= hz.high ? 1 : 0;
            qs_held += q.low <= nearest->q && nearest->q <= q.high ? 1 : 0;
        }
    }
    CAPTURE(frequencies, frequencies_held, qs_held);
    CHECK(frequencies > 120);
    CHECK(frequencies_held > 0.93 * frequencies);
    CHECK(frequencies_held < 0.995 * frequencies);
    CHECK(qs_held > 0.92 * frequencies);
}
