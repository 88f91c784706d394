// Damped plates, and the thump of hammer and hand: of sessions of seven taps, how many taps are
// accepted by themselves and with the session's others, and how many modes of the pooled list over
// -30 dB are none of the plate's? Plates of violin, viola and cello in turn, their modes' Q even in
// its logarithm; half sines of 1 to 4 ms on another spot each tap, the hold moves each mode by 0.08
// % and its Q by 4 %; 50 and 70 dB over pink noise.
//   speed_damped [SESSIONS [SEED [tell]]]     tell: each false one
#include "bench/sound/listening.hpp"
#include "support/synth.hpp"
#include "taps/onset/detector.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <numbers>
#include <utility>
#include <vector>

namespace {

using namespace platewright;

constexpr double k_rate_hz = 48000;
constexpr int k_taps = 7;
constexpr std::array k_sizes{1.0, 0.72, 0.33}; // of the violin's frequencies

double between(double low, double high, synth::Normal& normal) {
    return low + (high - low) * normal.uniform();
}

struct Plate {
    std::vector<double> hz, q;
};

Plate some_plate(double size, double low_q, double high_q, synth::Normal& normal) {
    Plate plate;
    plate.hz = {92, 165, 225, 250, 355};
    for (double hz = 420; hz < 2200; hz += between(90, 180, normal))
        plate.hz.push_back(hz);
    for (double& hz : plate.hz) {
        hz *= size * between(0.96, 1.04, normal);
        plate.q.push_back(low_q * std::pow(high_q / low_q, normal.uniform()));
    }
    return plate;
}

/// Each mode a resonator that a half sine pushes, heard by its acceleration.
void strike(const Plate& plate, std::size_t at, std::vector<double>& sound, synth::Normal& normal) {
    const auto contact = static_cast<std::size_t>(between(0.001, 0.004, normal) * k_rate_hz);
    for (std::size_t k = 0; k < plate.hz.size(); ++k) {
        const double hz = plate.hz[k] * (1 + 0.0008 * normal()),
                     q = plate.q[k] * (1 + 0.04 * normal());
        const double turn = 2 * std::numbers::pi * hz / k_rate_hz,
                     shrink = std::exp(-turn / (2 * q));
        const double weight = between(-1, 1, normal) * hz * hz;
        double one = 0, two = 0;
        for (std::size_t n = 0; n < static_cast<std::size_t>(k_rate_hz); ++n) {
            const double along = (static_cast<double>(n) + 0.5) / static_cast<double>(contact);
            const double force = along < 1 ? std::sin(std::numbers::pi * along) : 0;
            const double y = 2 * shrink * std::cos(turn) * one - shrink * shrink * two + force;
            sound[at + n] += weight * (y - 2 * one + two);
            two = one;
            one = y;
        }
    }
}

/// The hammer and the hand: two resonances gone in a few cycles, elsewhere with each tap by a
/// tenth, 6 to 20 dB under the plate's first 20 ms; and the click of all that is above the band.
void thump(const std::array<double, 2>& thump_hz, double rms, std::size_t at,
           std::vector<double>& sound, synth::Normal& normal) {
    for (const double hz : thump_hz) {
        const double amplitude = rms * std::pow(10, -between(6, 20, normal) / 20);
        const double q = between(3, 8, normal), phase = between(0, 6.28, normal);
        const double here_hz = hz * (1 + 0.1 * normal());
        for (std::size_t n = 0; n < 9600; ++n) {
            const double turn = 2 * std::numbers::pi * here_hz * static_cast<double>(n) / k_rate_hz;
            sound[at + n] += amplitude * std::min(1.0, static_cast<double>(n) / 48) *
                             std::exp(-turn / (2 * q)) * std::cos(turn + phase);
        }
    }
    const double click = rms * std::pow(10, -between(10, 25, normal) / 20);
    for (std::size_t n = 0; n < 4800; ++n)
        sound[at + n] += click * normal() * std::exp(-static_cast<double>(n) / (0.003 * k_rate_hz));
}

/// Noise whose power falls with the frequency: three first-order ones a decade apart (Voss and
/// Clarke's, from memory).
void add_pink(std::vector<double>& sound, double rms, synth::Normal& normal) {
    for (const double corner_hz : {20.0, 200.0, 2000.0})
        synth::add_noise(sound, rms / std::sqrt(3.0), normal,
                         std::exp(-2 * std::numbers::pi * corner_hz / k_rate_hz));
}

struct Score {
    int taps = 0, accepted = 0, together = 0, modes = 0, false_modes = 0;
};

void hear(const Plate& plate, double level_db, synth::Normal& normal, Score& score, bool tell) {
    std::vector<bench::HeardTap> kept;
    const std::array thump_hz{between(50, 150, normal), between(150, 600, normal)};
    for (int t = 0; t < k_taps; ++t) {
        std::vector<double> sound(static_cast<std::size_t>(2.2 * k_rate_hz));
        const auto at = static_cast<std::size_t>(0.7 * k_rate_hz);
        strike(plate, at, sound, normal);
        double power = 0;
        for (std::size_t n = at; n < at + 960; ++n)
            power += sound[n] * sound[n] / 960;
        thump(thump_hz, std::sqrt(power), at, sound, normal);
        for (double& x : sound)
            x *= 0.1 / std::sqrt(power);
        add_pink(sound, 0.1 * std::pow(10, -level_db / 20), normal);
        taps::Detector detector(k_rate_hz);
        auto heard = detector.push(synth::to_floats(sound));
        for (taps::Tap& tap : detector.finish())
            heard.push_back(std::move(tap));
        std::erase_if(heard, taps::begins_with_stream); // the room
        ++score.taps;
        if (heard.size() != 1 || heard[0].verdict != taps::Verdict::accepted)
            continue;
        modes::Fit fit = modes::fit_tap(heard[0]);
        if (fit.partials.empty())
            continue;
        const bool rings = fit.status == modes::FitStatus::ok;
        score.accepted += rings ? 1 : 0;
        heard[0].verdict = rings ? taps::Verdict::accepted : taps::Verdict::doubtful;
        kept.push_back({.tap = std::move(heard[0]),
                        .partials = std::move(fit.partials),
                        .input = fit.input,
                        .evidence = fit.evidence,
                        .picture = {}});
    }
    bench::recognise(kept);
    for (const bench::HeardTap& tap : kept)
        score.together += taps::counts(tap.tap.verdict) ? 1 : 0;
    for (const modes::Mode& mode : bench::pool(kept, {}).modes) {
        if (mode.level_db < -30)
            continue;
        ++score.modes;
        // Neighbours that overlap pull each other: by half of the half width it is still the mode.
        bool known = false;
        for (std::size_t k = 0; k < plate.hz.size(); ++k)
            known = known || std::abs(mode.frequency_hz - plate.hz[k]) <
                                 0.25 * plate.hz[k] / plate.q[k] + 3 * mode.frequency_sd_hz;
        score.false_modes += known ? 0 : 1;
        if (tell && !known)
            std::printf("  false %.1f Hz +- %.1f Q %.1f +- %.1f %.1f dB in %d of %zu\n",
                        mode.frequency_hz, mode.frequency_sd_hz, mode.q, mode.q_sd, mode.level_db,
                        mode.taps, kept.size());
    }
}

} // namespace

int main(int argc, char** argv) {
    const int sessions = argc > 1 ? std::atoi(argv[1]) : 12;
    const auto seed = static_cast<std::uint32_t>(argc > 2 ? std::atoi(argv[2]) : 4000);
    for (const auto& [low_q, high_q] :
         {std::pair{8.0, 12.0}, std::pair{12.0, 20.0}, std::pair{30.0, 100.0}})
        for (const double level_db : {50.0, 70.0}) {
            Score score;
            for (int s = 0; s < sessions; ++s) {
                synth::Normal normal(seed + static_cast<std::uint32_t>(s));
                hear(some_plate(k_sizes[static_cast<std::size_t>(s % 3)], low_q, high_q, normal),
                     level_db, normal, score, argc > 3);
            }
            std::printf("Q %g to %g, %g dB: %d of %d taps accepted, %d with the session's others; "
                        "%.2f false of "
                        "%.1f modes a session\n",
                        low_q, high_q, level_db, score.accepted, score.taps, score.together,
                        static_cast<double>(score.false_modes) / sessions,
                        static_cast<double>(score.modes) / sessions);
            std::fflush(stdout);
        }
}
