// Steady lines among the modes: mains hum with its harmonics and a fan's whistle stand through
// every tap, one line within 2 Hz of a mode. How many lines pass for modes, and what they do to the
// mode beside them.
//   speed_ghosts [SESSIONS]

#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "support/synth.hpp"

#include <cmath>
#include <cstdlib>
#include <deque>
#include <fmt/core.h>
#include <vector>

namespace {

using namespace platewright;

constexpr double k_rate_hz = 48000;

struct Score {
    int taps = 0, tap_ghosts = 0, sessions = 0, ghosts = 0, missed = 0, beside = 0;
    double square_beside = 0; // of (error / stated deviation) of the mode beside a line
};

struct Line {
    double hz, amplitude, phase;
};

std::vector<synth::Ring> plate(synth::Normal& normal) {
    std::vector<synth::Ring> rings;
    // Modes 6 Hz apart or more: nearer ones pass for one with or without a line (speed_bound tells
    // how near).
    for (double hz : {113.0, 169.0, 220.0, 240.0, 356.0, 409.0, 468.0, 527.0})
        rings.push_back({hz * (0.985 + 0.03 * normal.uniform()), 50.0 + 25.0 * normal.uniform(),
                         0.1 * std::pow(10.0, -0.75 * normal.uniform()), 0.0});
    return rings;
}

/// Hum of 50 Hz with falling harmonics, and a whistle; levels 20 to 50 dB below full modes.
std::vector<Line> lines_beside(double mode_hz, synth::Normal& normal) {
    std::vector<Line> lines;
    for (int k = 1; k <= 7; ++k)
        lines.push_back({50.0 * k, 0.01 * std::pow(10.0, -1.5 * normal.uniform()), 0.0});
    lines.push_back({mode_hz + 4.0 * normal.uniform() - 2.0,
                     0.01 * std::pow(10.0, -1.0 * normal.uniform()), 0.0});
    for (Line& line : lines)
        line.phase = 2.0 * std::numbers::pi * normal.uniform();
    return lines;
}

bool near_any(const std::vector<synth::Ring>& rings, double hz) {
    for (const synth::Ring& ring : rings)
        if (std::abs(ring.hz - hz) < 0.01 * ring.hz)
            return true;
    return false;
}

void one_session(Score& score, synth::Normal& normal) {
    const auto rings = plate(normal);
    const std::size_t beside = static_cast<std::size_t>(8.0 * normal.uniform());
    const auto lines = lines_beside(rings[beside].hz, normal);
    std::vector<modes::FittedTap> fitted;
    for (int k = 0; k < 4; ++k) {
        auto struck = rings;
        for (synth::Ring& ring : struck)
            ring.phase = 2.0 * std::numbers::pi * normal.uniform();
        taps::Tap tap = synth::tap(struck, normal, {.length_s = 0.9, .noise = 2e-4});
        std::vector<double> sound(tap.samples.begin(), tap.samples.end());
        for (const Line& line : lines)
            synth::add_line(sound, k_rate_hz, line.hz, line.amplitude, line.phase + k * 1.7);
        tap.samples = synth::to_floats(sound);
        fitted.push_back({nullptr, taps::Spot::unknown, modes::fit_tap(tap).partials});
        ++score.taps;
        for (const modes::Partial& p : fitted.back().partials) {
            score.tap_ghosts += !near_any(rings, p.frequency_hz);
            if (std::abs(p.frequency_hz - rings[beside].hz) < 3.0) {
                const double z = (p.frequency_hz - rings[beside].hz) / p.frequency_sd_hz;
                score.square_beside += std::min(z * z, 100.0);
                ++score.beside;
            }
        }
    }
    ++score.sessions;
    const auto modes = modes::pool(fitted).modes;
    for (const modes::Mode& m : modes)
        score.ghosts += !near_any(rings, m.frequency_hz);
    for (const synth::Ring& ring : rings) {
        bool found = false;
        for (const modes::Mode& m : modes)
            found = found || std::abs(m.frequency_hz - ring.hz) < 0.01 * ring.hz;
        score.missed += !found;
    }
}

} // namespace

int main(int count, char** words) {
    const int sessions = count > 1 ? std::atoi(words[1]) : 200;
    synth::Normal normal(5);
    Score score;
    for (int i = 0; i < sessions; ++i)
        one_session(score, normal);
    fmt::print("{} sessions of 4 taps, 8 modes, 8 lines, one within 2 Hz of a mode\n",
               score.sessions);
    fmt::print(
        "modes from lines: {} in {} taps, {} in the pooled sessions; modes missed: {} of {}\n",
        score.tap_ghosts, score.taps, score.ghosts, score.missed, 8 * score.sessions);
    fmt::print(
        "the mode beside a line: found in {} of {} taps, rms error {:.2f} stated deviations\n",
        score.beside, score.taps, std::sqrt(score.square_beside / std::max(1, score.beside)));
    return 0;
}
