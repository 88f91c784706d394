// How often the stated 95 % intervals hold the truth: frequency and Q, single taps and pooled over
// a session's taps with hold noise, in white and in coloured noise.
//   speed_coverage [SESSIONS]

#include "base/stats.hpp"
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

struct Tally {
    int held = 0, of = 0;
    void count(double error, double half_width) {
        held += std::abs(error) <= half_width;
        ++of;
    }
    double percent() const { return of == 0 ? 0.0 : 100.0 * held / of; }
};

struct Coverage {
    Tally tap_hz, tap_q, pooled_hz, pooled_q;
    int missed = 0, ghosts = 0;
    double square_pooled = 0, square_common = 0; // of relative errors of frequency
};

/// The frequency that one pole forced on all taps would take, to first order: taps weighted by
/// their own fit's information alone.
double common_pole_hz(const std::vector<modes::FittedTap>& taps, double hz) {
    double sum = 0, weight = 0;
    for (const modes::FittedTap& tap : taps) {
        for (const modes::Partial& p : tap.partials) {
            if (std::abs(p.frequency_hz - hz) > 0.01 * hz)
                continue;
            const double w = 1.0 / (p.frequency_sd_hz * p.frequency_sd_hz);
            sum += w * p.frequency_hz;
            weight += w;
        }
    }
    return sum / weight;
}

/// A plate of four to six modes at least 7 % apart, levels within 15 dB.
std::vector<synth::Ring> random_plate(synth::Normal& normal) {
    std::vector<synth::Ring> rings;
    double hz = 90.0 + 60.0 * normal.uniform();
    const int count = 4 + static_cast<int>(3.0 * normal.uniform());
    for (int i = 0; i < count; ++i) {
        const double level_db = -15.0 * normal.uniform();
        rings.push_back(
            {hz, 45.0 + 45.0 * normal.uniform(), 0.1 * std::pow(10.0, level_db / 20.0), 0.0});
        hz *= 1.07 + 0.4 * normal.uniform();
    }
    return rings;
}

/// The plate as one tap finds it: the hold shifts each mode, every tap excites them differently.
std::vector<synth::Ring> held(const std::vector<synth::Ring>& plate, synth::Normal& normal,
                              double hold) {
    std::vector<synth::Ring> rings = plate;
    for (synth::Ring& ring : rings) {
        ring.hz *= 1.0 + hold * normal();
        ring.q *= std::exp(20.0 * hold * normal());
        ring.amplitude *= std::pow(10.0, 0.15 * normal());
        ring.phase = 2.0 * std::numbers::pi * normal.uniform();
    }
    return rings;
}

const synth::Ring* truth_of(const std::vector<synth::Ring>& rings, double hz) {
    for (const synth::Ring& ring : rings)
        if (std::abs(ring.hz - hz) < 0.02 * ring.hz)
            return &ring;
    return nullptr;
}

void one_session(Coverage& coverage, synth::Normal& normal, double colour, double hold) {
    const double normal_95 = base::normal_quantile(0.975);
    const auto plate = random_plate(normal);
    const double noise = 0.1 * std::pow(10.0, -(15.0 + 30.0 * normal.uniform()) / 20.0);
    const int taps = 3 + static_cast<int>(4.0 * normal.uniform());
    std::vector<modes::FittedTap> fitted;
    std::deque<taps::Tap> kept;
    for (int k = 0; k < taps; ++k) {
        const auto rings = held(plate, normal, hold);
        kept.push_back(
            synth::tap(rings, normal, {.length_s = 0.8, .noise = noise, .colour = colour}));
        fitted.push_back({&kept.back(), taps::Spot::unknown, modes::fit_tap(kept.back()).partials});
        for (const modes::Partial& p : fitted.back().partials) {
            const synth::Ring* truth = truth_of(rings, p.frequency_hz);
            if (truth == nullptr) {
                ++coverage.ghosts;
                continue;
            }
            coverage.tap_hz.count(p.frequency_hz - truth->hz, normal_95 * p.frequency_sd_hz);
            coverage.tap_q.count(p.q - truth->q, normal_95 * p.q_sd);
        }
    }
    const modes::Pooled pooled = modes::pool(fitted);
    for (const modes::Mode& m : pooled.modes) {
        const synth::Ring* truth = truth_of(plate, m.frequency_hz);
        if (truth == nullptr || m.taps < 2)
            continue;
        const double common = common_pole_hz(fitted, m.frequency_hz);
        coverage.square_pooled += std::pow(m.frequency_hz / truth->hz - 1.0, 2);
        coverage.square_common += std::pow(common / truth->hz - 1.0, 2);
        const double factor = base::student_quantile(0.975, m.taps - 1);
        coverage.pooled_hz.count(m.frequency_hz - truth->hz, factor * m.frequency_sd_hz);
        coverage.pooled_q.count(std::log(m.q / truth->q), factor * m.q_sd / m.q);
    }
    for (const synth::Ring& ring : plate) {
        bool found = false;
        for (const modes::Mode& m : pooled.modes)
            found = found || std::abs(m.frequency_hz - ring.hz) < 0.02 * ring.hz;
        coverage.missed += !found;
    }
}

void row(const char* name, int sessions, double colour, double hold, std::uint32_t seed) {
    synth::Normal normal(seed);
    Coverage c;
    for (int i = 0; i < sessions; ++i)
        one_session(c, normal, colour, hold);
    fmt::print("{:<24} {:8.2f} {:8.2f} {:8.2f} {:8.2f} {:9} {:9} {:7} {:7} {:8.2f}\n", name,
               c.tap_hz.percent(), c.tap_q.percent(), c.pooled_hz.percent(), c.pooled_q.percent(),
               c.tap_hz.of, c.pooled_hz.of, c.missed, c.ghosts,
               std::sqrt(c.square_common / c.square_pooled));
}

} // namespace

int main(int count, char** words) {
    const int sessions = count > 1 ? std::atoi(words[1]) : 2000;
    const int quarter = sessions / 4;
    fmt::print(
        "{} sessions of 3 to 6 taps, 15 to 45 dB; share of 95 % intervals that hold the truth\n",
        4 * quarter);
    fmt::print("{:<24} {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>7} {:>7} {:>8}\n", "noise, hold",
               "tap Hz", "tap Q", "pool Hz", "pool Q", "tap n", "pool n", "missed", "ghosts",
               "common");
    fmt::print("(common: rms error of one pole forced on all taps, over that of the pooled one)\n");
    row("white, steady hold", quarter, 0.0, 0.0, 11);
    row("white, hold 0.1 %", quarter, 0.0, 0.001, 12);
    row("coloured, steady hold", quarter, 0.97, 0.0, 13);
    row("coloured, hold 0.1 %", quarter, 0.97, 0.001, 14);
    return 0;
}
