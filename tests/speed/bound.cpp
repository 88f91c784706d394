// How close the fit of one tap comes to the Cramér–Rao bound (computed over the ring from 5 ms
// after the strike), from 10 to 60 dB, and how often two modes 6 Hz apart are told apart.
//   speed_bound [TRIALS] [FILE]
// With FILE the signals are written there, for tests/speed/peers.py to be measured on the same
// ones.

#include "modes/estimate/fit.hpp"
#include "speed/fisher.hpp"
#include "support/synth.hpp"

#include <cmath>
#include <cstdlib>
#include <fmt/core.h>
#include <fstream>
#include <string>
#include <vector>

namespace {

using namespace platewright;

constexpr double k_rate_hz = 48000;
constexpr double k_length_s = 0.8;

/// Three modes well apart; their levels are equal, so that one signal-to-noise ratio holds for all.
std::vector<synth::Ring> separated(synth::Normal& normal) {
    std::vector<synth::Ring> rings{{168, 55, 0.1, 0}, {352, 62, 0.1, 0}, {587, 72, 0.1, 0}};
    for (synth::Ring& ring : rings)
        ring.phase = 2.0 * std::numbers::pi * normal.uniform();
    return rings;
}

/// Signal-to-noise ratio at the strike: A²/2 over the noise's variance in the whole 48 kHz band.
double noise_for(double snr_db) { return 0.1 / std::sqrt(2.0) * std::pow(10.0, -snr_db / 20.0); }

struct Errors {
    double sum_hz = 0, square_hz = 0, sum_decay = 0, square_decay = 0;
    double bound_hz = 0, bound_decay = 0; // sums of variances
    int count = 0;
};

const modes::Partial* nearest(const std::vector<modes::Partial>& partials,
                              const synth::Ring& ring) {
    const modes::Partial* best = nullptr;
    for (const modes::Partial& p : partials) {
        if (std::abs(p.frequency_hz - ring.hz) > 0.03 * ring.hz)
            continue;
        if (best == nullptr ||
            std::abs(p.frequency_hz - ring.hz) < std::abs(best->frequency_hz - ring.hz))
            best = &p;
    }
    return best;
}

void write_tap(std::ofstream& out, const taps::Tap& tap) {
    const auto length =
        static_cast<std::streamsize>((tap.samples.size() - tap.onset_index) * sizeof(float));
    out.write(reinterpret_cast<const char*>(tap.samples.data() + tap.onset_index), length);
}

void separated_modes(double snr_db, int trials, std::ofstream& out) {
    synth::Normal normal(static_cast<std::uint32_t>(100 + snr_db));
    std::vector<Errors> errors(3);
    int ghosts = 0;
    for (int trial = 0; trial < trials; ++trial) {
        const auto rings = separated(normal);
        const double noise = noise_for(snr_db);
        const auto tap = synth::tap(rings, normal, {.length_s = k_length_s, .noise = noise});
        if (out.is_open())
            write_tap(out, tap);
        const auto bounds = bound::cramer_rao(rings, noise, k_rate_hz, 0.005, k_length_s);
        const auto partials = modes::fit_tap(tap, {.floor_db = -80}).partials;
        ghosts += std::max(0, static_cast<int>(partials.size()) - 3);
        for (std::size_t i = 0; i < rings.size(); ++i) {
            const modes::Partial* p = nearest(partials, rings[i]);
            if (p == nullptr)
                continue;
            Errors& e = errors[i];
            const double hz = p->frequency_hz - rings[i].hz;
            const double decay = std::numbers::pi * p->frequency_hz / p->q - rings[i].decay();
            e.sum_hz += hz;
            e.square_hz += hz * hz;
            e.sum_decay += decay;
            e.square_decay += decay * decay;
            e.bound_hz += bounds[i].hz * bounds[i].hz;
            e.bound_decay += bounds[i].decay * bounds[i].decay;
            ++e.count;
        }
    }
    const auto rings = separated(normal);
    for (std::size_t i = 0; i < rings.size(); ++i) {
        const Errors& e = errors[i];
        const double n = e.count;
        const auto bias = [n](double sum, double square) {
            return (sum / n) / std::sqrt(std::max(1e-30, square / n - sum * sum / n / n));
        };
        fmt::print(
            "{:6.0f} {:7.0f} {:7}/{} {:10.5f} {:8.3f} {:8.2f} {:10.4f} {:8.3f} {:8.2f} {:7}\n",
            snr_db, rings[i].hz, e.count, trials, std::sqrt(e.square_hz / n),
            std::sqrt(e.square_hz / e.bound_hz), bias(e.sum_hz, e.square_hz),
            std::sqrt(e.square_decay / n), std::sqrt(e.square_decay / e.bound_decay),
            bias(e.sum_decay, e.square_decay), i == 0 ? ghosts : 0);
    }
}

void close_pair(double snr_db, int trials, std::ofstream& out) {
    synth::Normal normal(static_cast<std::uint32_t>(900 + snr_db));
    int told = 0;
    for (int trial = 0; trial < trials; ++trial) {
        std::vector<synth::Ring> rings{{300, 60, 0.1, 0}, {306, 60, 0.1, 0}};
        for (synth::Ring& ring : rings)
            ring.phase = 2.0 * std::numbers::pi * normal.uniform();
        const auto tap =
            synth::tap(rings, normal, {.length_s = k_length_s, .noise = noise_for(snr_db)});
        if (out.is_open())
            write_tap(out, tap);
        const auto partials = modes::fit_tap(tap).partials;
        told += partials.size() == 2 && std::abs(partials[0].frequency_hz - 300) < 1.5 &&
                std::abs(partials[1].frequency_hz - 306) < 1.5;
    }
    fmt::print(
        "300 and 306 Hz, Q 60, {:.0f} dB: told apart, each within 1.5 Hz, in {} of {} ({:.1f} %)\n",
        snr_db, told, trials, 100.0 * told / trials);
}

} // namespace

int main(int count, char** words) {
    const int trials = count > 1 ? std::atoi(words[1]) : 400;
    std::ofstream out;
    if (count > 2)
        out.open(words[2], std::ios::binary);
    fmt::print("{} taps a row; ratio: rms error over the bound; bias: in deviations\n", trials);
    fmt::print("{:>6} {:>7} {:>10} {:>10} {:>8} {:>8} {:>10} {:>8} {:>8} {:>7}\n", "SNR dB", "Hz",
               "found", "rms Hz", "ratio", "bias", "rms 1/s", "ratio", "bias", "ghosts");
    for (double snr_db : {10.0, 20.0, 30.0, 40.0, 50.0, 60.0})
        separated_modes(snr_db, trials, out);
    close_pair(30.0, trials, out);
    return 0;
}
