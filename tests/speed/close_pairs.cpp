// Two modes too near to be told apart: does the one pole that stands for them say so? A plate of
// five modes, a sixth beside the one at 355 Hz: 0.5 to 4 Hz away, as strong or weaker, with its own
// phase and level in each tap; six taps a session, the hold moves each mode by 0.05 %.
// Of sessions and single taps that report one mode there: how often the frequency's interval holds
// the stronger of the two, and (of pairs within 6 dB) the middle of both and both; how often Q's
// holds the stronger's.
//   close_pairs [SESSIONS [SEED]]
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
#include <vector>

namespace {

using namespace platewright;

constexpr double k_hz = 355, k_hold = 0.0005, k_window_hz = 8;

struct Pair {
    double apart_hz, weaker_db, q;
};

struct Held {
    int reported = 0, one = 0, stronger = 0, both = 0, q = 0;
    double worst = 0; // deviations from the stronger to the frequency stated
};

struct Figures {
    double hz, hz_sd, q, q_sd;
    int taps;
};

void count(const std::vector<Figures>& near, const Pair& pair, Held& held) {
    held.reported += near.empty() ? 0 : 1;
    if (near.size() != 1)
        return;
    const Figures& f = near.front();
    const modes::Interval hz = modes::interval(f.hz, f.hz_sd, f.taps),
                          q = modes::interval(f.q, f.q_sd, f.taps);
    ++held.one;
    const bool first = hz.low <= k_hz && k_hz <= hz.high;
    held.stronger += first ? 1 : 0;
    held.both += first && hz.low <= k_hz + pair.apart_hz && k_hz + pair.apart_hz <= hz.high ? 1 : 0;
    held.q += q.low <= pair.q && pair.q <= q.high ? 1 : 0;
    held.worst = std::max(held.worst, std::abs(f.hz - k_hz) / f.hz_sd);
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
        std::vector<Figures> near;
        for (const modes::Partial& p : taps.back().partials)
            if (std::abs(p.frequency_hz - k_hz) < k_window_hz)
                near.push_back({p.frequency_hz, p.frequency_sd_hz, p.q, p.q_sd, 1});
        count(near, pair, single);
    }
    std::vector<Figures> near;
    for (const modes::Mode& m : modes::pool(taps).modes)
        if (std::abs(m.frequency_hz - k_hz) < k_window_hz)
            near.push_back({m.frequency_hz, m.frequency_sd_hz, m.q, m.q_sd, m.taps});
    count(near, pair, pooled);
}

void print(const Held& held, double weaker_db) {
    const auto percent = [&](int part) { return 100.0 * part / std::max(1, held.one); };
    std::printf("  %4d/%-4d %4.0f", held.one, held.reported, percent(held.stronger));
    weaker_db <= 6 ? std::printf(" %4.0f", percent(held.both)) : std::printf("    -");
    std::printf(" %4.0f %6.1f", percent(held.q), held.worst);
}

} // namespace

int main(int argc, char** argv) {
    const int sessions = argc > 1 ? std::atoi(argv[1]) : 20;
    const auto seed = static_cast<std::uint32_t>(argc > 2 ? std::atoi(argv[2]) : 1);
    std::printf("%d sessions a row; one: those that report one mode, of those that report any; "
                "held %%: the stronger, "
                "both, Q; worst: deviations off\n"
                " Hz  dB   Q   tap one  held both    Q  worst   session   held both   Q  worst\n",
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
