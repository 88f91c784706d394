// Two modes too near to be told apart: does the one pole that stands for them say so? A plate of
// five modes, a sixth beside the one at 355 Hz: 0.5 to 4 Hz away, as strong or weaker, with its own
// phase and level in each tap; six taps a session, the hold moves each mode by 0.05 %.
// Of sessions and single taps that report one mode there: how often the frequency's interval holds
// the stronger of the two, and (of pairs within 6 dB) the middle of both and both; how often Q's
// holds the stronger's.
//   close_pairs [SESSIONS [SEED]]
#include "base/stats.hpp"
#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "support/synth.hpp"

#include <array>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <numbers>
#include <span>
#include <vector>

namespace {

using namespace platewright;

constexpr double k_hz = 355, k_hold = 0.0005, k_window_hz = 8;

struct Pair {
    double apart_hz, weaker_db, q;
};

struct Held {
    int reported = 0, one = 0, stronger = 0, both = 0, q = 0;
    double worst = 0;           // deviations from the stronger to the frequency stated
    std::vector<double> half_q; // of the interval, over Q
};

/// What a maker reads of these taps beside the pair.
void count(std::span<const modes::FittedTap> taps, const Pair& pair, Held& held) {
    std::vector<modes::Mode> near = modes::pool(taps).modes;
    std::erase_if(
        near, [](const modes::Mode& m) { return std::abs(m.frequency_hz - k_hz) > k_window_hz; });
    held.reported += near.empty() ? 0 : 1;
    if (near.size() != 1)
        return;
    const modes::Mode& m = near.front();
    const modes::Interval hz = modes::interval(m.frequency_hz, m.frequency_sd_hz, m.taps),
                          q = modes::interval(m.q, m.q_sd, m.taps);
    ++held.one;
    const bool first = hz.low <= k_hz && k_hz <= hz.high;
    held.stronger += first ? 1 : 0;
    held.both += first && hz.low <= k_hz + pair.apart_hz && k_hz + pair.apart_hz <= hz.high ? 1 : 0;
    held.q += q.low <= pair.q && pair.q <= q.high ? 1 : 0;
    held.half_q.push_back((q.high - q.low) / 2 / m.q);
    held.worst = std::max(held.worst, std::abs(m.frequency_hz - k_hz) / m.frequency_sd_hz);
}

void one_session(const Pair& pair, synth::Normal& normal, Held& single, Held& pooled) {
    std::deque<taps::Tap> kept;
    std::vector<modes::FittedTap> taps;
    const auto phase = [&] { return 2 * std::numbers::pi * normal.uniform(); };
    const auto level = [&] { return 0.1 * std::pow(10.0, 0.3 * (normal.uniform() - 0.5)); };
    for (int i = 0; i < 6; ++i) {
        const double move = 1 + k_hold * normal();
        const std::vector<synth::Ring> rings{{92, 45, level(), phase()},
                                             {166, 55, level(), phase()},
                                             {k_hz * move, pair.q, 0.1, phase()},
                                             {(k_hz + pair.apart_hz) * move, pair.q,
                                              level() * std::pow(10.0, -pair.weaker_db / 20),
                                              phase()},
                                             {520, 60, level(), phase()},
                                             {640, 50, level(), phase()}};
        kept.push_back(synth::tap(rings, normal, {.length_s = 1.0, .noise = 1e-4}));
        taps.push_back({&kept.back(), taps::Spot::unknown, modes::fit_tap(kept.back()).partials});
        count({&taps.back(), 1}, pair, single);
    }
    count(taps, pair, pooled);
}

void print(const Held& held, double weaker_db) {
    const auto percent = [&](int part) { return 100.0 * part / std::max(1, held.one); };
    std::printf("  %4d/%-4d %4.0f", held.one, held.reported, percent(held.stronger));
    weaker_db <= 6 ? std::printf(" %4.0f", percent(held.both)) : std::printf("    -");
    std::printf(" %4.0f %6.1f %5.0f", percent(held.q), held.worst,
                held.half_q.empty() ? 0.0 : 100 * base::median(held.half_q));
}

} // namespace

int main(int argc, char** argv) {
    const int sessions = argc > 1 ? std::atoi(argv[1]) : 20;
    const auto seed = static_cast<std::uint32_t>(argc > 2 ? std::atoi(argv[2]) : 1);
    std::printf("%d sessions a row; one: those that report one mode, of those that report any; "
                "held %%: the stronger, "
                "both, Q; worst: deviations off; +- Q: half interval, %%\n"
                " Hz  dB   Q   tap one  held both    Q  worst  +- Q   session held both    Q  "
                "worst  +- Q\n",
                sessions);
    for (const double apart_hz : {0.5, 1.0, 2.0, 3.0, 4.0})
        for (const double weaker_db : {0.0, 6.0, 12.0, 20.0})
            for (const double q : {15.0, 30.0, 60.0, 100.0}) {
                const Pair pair{apart_hz, weaker_db, q};
                synth::Normal normal(seed);
                Held single, pooled;
                for (int i = 0; i < sessions; ++i)
                    one_session(pair, normal, single, pooled);
                std::printf("%3.1f %3.0f %3.0f", apart_hz, weaker_db, q);
                print(single, weaker_db);
                print(pooled, weaker_db);
                std::printf("\n");
                std::fflush(stdout);
            }
}
