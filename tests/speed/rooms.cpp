// What a room does to frequency and Q, and whether the stated intervals know: plates of the demo
// and random ones in turn, struck in simulated rooms (support/echoes.hpp) 50 dB over the noise,
// nine taps a session from three spots. A session stays in its place in the room, but for `moved`,
// where each tap has a room of its own. The constants of src/modes/ring/reverberation.cpp were set
// on seed 71000, in rooms of images only.
//   speed_rooms [SESSIONS] [SEED]

#include "base/stats.hpp"
#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "strike.hpp"
#include "support/echoes.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <deque>
#include <fmt/core.h>
#include <string>
#include <vector>

namespace {

using namespace platewright;

constexpr double k_rate_hz = 24000;
constexpr double k_strong_db = -30;

enum class Walls { none, images, diffuse, moving };

struct Place {
    const char* name;
    Walls walls;
    double t60_s, direct_db;
};

struct Tally {
    int held_hz = 0, held_q = 0, of = 0, false_modes = 0, missed = 0, strong = 0, sessions = 0,
        refused = 0, taps = 0;
    double square_cents = 0, square_log_q = 0;
    std::vector<double> half_cents, half_q, shares, t60s;
};

/// Modes at least 40 Hz apart above the first five, Q 30 to 100, as violins' plates have them.
demo::Session random_plate(demo::Random& random) {
    demo::Session session;
    session.contact_ms = random.between(1, 4);
    std::vector<double> hz{92, 165, 225, 250, 355};
    for (double next = 420; next < 2200; next += random.between(40, 90))
        hz.push_back(next);
    const double size = random.between(0.85, 1.15);
    for (const double at : hz) {
        demo::Mode mode;
        mode.number = static_cast<int>(session.modes.size()) + 1;
        mode.hz = at * size * random.between(0.97, 1.03);
        mode.q = 30 * std::pow(100.0 / 30, random.even());
        mode.radiates = random.between(0.1, 1);
        for (const char* spot : {"a", "b", "c"})
            mode.shape[spot] = random.between(-1, 1);
        session.modes.push_back(mode);
    }
    return session;
}

synth::Echoes echoes_of(const Place& place, demo::Random& random) {
    const synth::RoomParams p{
        .t60_s = place.t60_s, .direct_db = place.direct_db, .rate_hz = k_rate_hz};
    const auto even = [&] { return random.even(); };
    return place.walls == Walls::none      ? synth::Echoes{}
           : place.walls == Walls::diffuse ? synth::diffuse_room(p, even)
                                           : synth::image_room(p, even);
}

void one_session(const demo::Session& plate, const Place& place, demo::Random& random,
                 Tally& tally) {
    std::vector<demo::Hold> holds(plate.modes.size());
    synth::Echoes echoes = echoes_of(place, random);
    std::deque<taps::Tap> taps;
    std::vector<modes::FittedTap> fitted;
    std::vector<std::vector<demo::Sounded>> sounded;
    for (const auto& [spot, shape] : plate.modes.front().shape)
        for (int i = 0; i < 3; ++i) {
            if (place.walls == Walls::moving && i > 0)
                echoes = echoes_of(place, random);
            const demo::Strike strike = demo::strike(plate, spot, holds, k_rate_hz, random);
            std::vector<double> sound = synth::heard_in(echoes, strike.sound);
            taps::Tap tap;
            tap.sample_rate_hz = k_rate_hz;
            tap.onset_index = static_cast<std::size_t>(0.25 * k_rate_hz);
            std::vector<double> noise =
                demo::room_noise(sound.size() + tap.onset_index, k_rate_hz,
                                 demo::peak(sound) * demo::amplitude_of_db(-50), random);
            for (std::size_t n = 0; n < sound.size(); ++n)
                noise[tap.onset_index + n] += sound[n];
            for (const double x : noise)
                tap.samples.push_back(static_cast<float>(0.3 * x));
            taps.push_back(std::move(tap));
            const modes::Fit fit = modes::fit_tap(taps.back());
            ++tally.taps;
            if (fit.status != modes::FitStatus::ok) {
                ++tally.refused;
                continue;
            }
            tally.shares.push_back(fit.input.room.share);
            tally.t60s.push_back(fit.input.room.share > 0 ? 6.91 / fit.input.room.decay_per_s : 0);
            fitted.push_back({&taps.back(), taps::Spot::unknown, fit.partials});
            sounded.push_back(strike.sounded);
        }
    std::vector<modes::Mode> pooled = modes::pool(fitted).modes;
    // Of two that lie by one true mode the one found more often, and stronger, is it.
    std::ranges::stable_sort(pooled, std::ranges::greater{},
                             [](const modes::Mode& m) { return m.level_db + 3 * m.taps; });
    ++tally.sessions;
    std::vector<bool> found(plate.modes.size());
    for (const modes::Mode& m : pooled) {
        const auto nearest = static_cast<std::size_t>(
            std::ranges::min_element(
                plate.modes, {},
                [&](const demo::Mode& mode) { return std::abs(mode.hz - m.frequency_hz); }) -
            plate.modes.begin());
        const demo::Mode& truth = plate.modes[nearest];
        const double away_hz = std::abs(truth.hz - m.frequency_hz);
        const bool is_true = away_hz < 0.02 * truth.hz && !found[nearest];
        if (!is_true) {
            tally.false_modes += m.level_db > k_strong_db ? 1 : 0;
            continue;
        }
        found[nearest] = true;
        if (m.level_db < k_strong_db || m.taps < 2)
            continue;
        const double reach = base::student_quantile(0.975, m.taps - 1);
        const double log_q = std::log(m.q / truth.q);
        tally.held_hz += away_hz <= reach * m.frequency_sd_hz;
        tally.held_q += std::abs(m.q - truth.q) <= reach * m.q_sd;
        ++tally.of;
        const double cents = 1200 * std::log2(m.frequency_hz / truth.hz);
        tally.square_cents += cents * cents;
        tally.square_log_q += log_q * log_q;
        tally.half_cents.push_back(1200 / std::log(2) * reach * m.frequency_sd_hz / m.frequency_hz);
        tally.half_q.push_back(reach * m.q_sd / m.q);
    }
    for (std::size_t k = 0; k < plate.modes.size(); ++k) {
        double level = 0, most = 0;
        for (const auto& tap : sounded) {
            double strongest = 0;
            for (const demo::Sounded& s : tap)
                strongest = std::max(strongest, s.amplitude);
            level += tap[k].amplitude / strongest;
            most += 1;
        }
        if (level > most * demo::amplitude_of_db(-25)) {
            ++tally.strong;
            tally.missed += !found[k];
        }
    }
}

} // namespace

int main(int count, char** words) {
    const int sessions = count > 1 ? std::atoi(words[1]) : 20;
    const std::uint64_t seed = count > 2 ? std::strtoull(words[2], nullptr, 10) : 71000;
    std::vector<demo::Session> plates;
    for (const char* table : {"wren-back", "wren-top", "heron-back"})
        for (const demo::Session& session :
             demo::read_table(std::string(PLATEWRIGHT_SOURCE_DIR "/sample-audio/tables/") + table +
                              ".json")
                 .sessions)
            plates.push_back(session);
    const std::vector<Place> places{
        {"dry", Walls::none, 0, 0},
        {"0.30 s, 0 dB", Walls::images, 0.3, 0},
        {"0.30 s, 6 dB", Walls::images, 0.3, 6},
        {"0.45 s, 3 dB", Walls::images, 0.45, 3},
        {"0.45 s, 10 dB", Walls::images, 0.45, 10},
        {"0.60 s, 0 dB", Walls::images, 0.6, 0},
        {"0.60 s, 6 dB", Walls::images, 0.6, 6},
        {"0.70 s, 10 dB", Walls::images, 0.7, 10},
        {"tail 0.30 s, 6 dB", Walls::diffuse, 0.3, 6},
        {"tail 0.63 s, 6 dB", Walls::diffuse, 0.63, 6},
        {"moved 0.45 s, 6 dB", Walls::moving, 0.45, 6},
    };
    fmt::print(
        "share of 95 % intervals that hold; rms error; median half interval; false modes over "
        "-30 dB a session; missed of those over -25 dB; what the taps say of the room\n");
    fmt::print("{:<19} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>6} {:>12} {:>10} {:>6} {:>6}\n",
               "room", "Hz", "Q", "cents", "+-", "ln Q", "+-", "false", "missed", "refused", "dB",
               "T60 s");
    std::uint64_t next = seed;
    for (const Place& place : places) {
        Tally t;
        for (int i = 0; i < sessions; ++i) {
            demo::Random random(++next);
            // Every second one of the demo's, by their weight in number; the others random.
            const demo::Session plate =
                i % 2 == 0 ? plates[static_cast<std::size_t>(random.even() *
                                                             static_cast<double>(plates.size()))]
                           : random_plate(random);
            one_session(plate, place, random, t);
        }
        const double of = std::max(1, t.of), share = base::median(t.shares);
        fmt::print(
            "{:<19} {:6.1f} {:6.1f} {:6.2f} {:6.2f} {:6.3f} {:6.3f} {:6.2f} {:5} of {:3} {:3} of "
            "{:3} {:6.1f} {:6.2f}\n",
            place.name, 100 * t.held_hz / of, 100 * t.held_q / of, std::sqrt(t.square_cents / of),
            base::median(t.half_cents), std::sqrt(t.square_log_q / of), base::median(t.half_q),
            t.false_modes / static_cast<double>(t.sessions), t.missed, t.strong, t.refused, t.taps,
            share > 0 ? -10 * std::log10(share) : 99.0, base::median(t.t60s));
        std::fflush(stdout);
    }
    return 0;
}
