// Second contacts too soft for the detector, told by the session's other taps: how many are found,
// and how many single taps are called double? Plates of violin, viola and cello, Q 30 to 100; half
// sines of 1 to 4 ms; six single taps a session and four whose second contact comes 8 to 300 ms
// later, 3 to 16 dB weaker, on the same or another spot; 30 to 50 dB over the room's noise.
//   second_contacts [SESSIONS [SEED]]   docs/detection-results.md: 14 13000
#include "modes/estimate/fit.hpp"
#include "modes/pool/pool.hpp"
#include "modes/ring/second_contact.hpp"
#include "room.hpp"
#include "strike.hpp"
#include "taps/tap.hpp"

#include <algorithm>
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

constexpr double k_rate_hz = 24000.0;
constexpr std::array k_kinds{"violin", "viola", "cello"};
constexpr std::array k_sizes{1.0, 0.72, 0.33}; // of the violin's frequencies

struct Plate {
    std::vector<double> hz, q;
};

Plate some_plate(double size, demo::Random& random) {
    Plate plate;
    plate.hz = {92, 165, 225, 250, 355};
    for (double hz = 420; hz < 2200; hz += random.between(40, 90))
        plate.hz.push_back(hz);
    for (double& hz : plate.hz) {
        hz *= size * random.between(0.96, 1.04);
        plate.q.push_back(30 * std::pow(100.0 / 30, random.even()));
    }
    return plate;
}

// A push of a half sine, added from `at` on: acceleration of damped resonators.
void push(const Plate& plate, const std::vector<double>& weights, double contact_s, std::size_t at,
          std::vector<double>& sound) {
    const auto contact = std::max<std::size_t>(2, static_cast<std::size_t>(contact_s * k_rate_hz));
    for (std::size_t k = 0; k < plate.hz.size(); ++k) {
        const double turn = 2 * std::numbers::pi * plate.hz[k] / k_rate_hz;
        const double shrink = std::exp(-std::numbers::pi * plate.hz[k] / plate.q[k] / k_rate_hz);
        const double weight = weights[k] * plate.hz[k] * plate.hz[k];
        double one = 0, two = 0;
        for (std::size_t n = 0; at + n < sound.size(); ++n) {
            const double force = n < contact
                                     ? std::sin(std::numbers::pi * (static_cast<double>(n) + 0.5) /
                                                static_cast<double>(contact))
                                     : 0.0;
            const double now = 2 * shrink * std::cos(turn) * one - shrink * shrink * two + force;
            sound[at + n] += weight * (now - 2 * one + two);
            two = one;
            one = now;
        }
    }
}

// Loudest 20 ms, root mean square.
double loudest(const std::vector<double>& sound) {
    constexpr std::size_t k_window = 480, k_step = 120;
    double most = 0;
    for (std::size_t a = 0; a + k_window <= sound.size(); a += k_step) {
        double energy = 0;
        for (std::size_t n = a; n < a + k_window; ++n)
            energy += sound[n] * sound[n];
        most = std::max(most, energy);
    }
    return std::sqrt(most / k_window);
}

std::vector<double> scattered(std::vector<double> weights, double by, demo::Random& random) {
    for (double& weight : weights)
        weight *= 1 + by * random.normal();
    return weights;
}

struct Struck {
    taps::Tap tap;
    bool twice = false;
    double after_s = 0;
    modes::Fit fit;
};

Struck strike(Plate plate, const std::array<std::vector<double>, 4>& spots, std::size_t spot,
              bool twice, demo::Random& random) {
    for (double& hz : plate.hz)
        hz *= 1 + 0.0012 * random.normal();
    for (double& q : plate.q)
        q *= std::exp(0.04 * random.normal());
    Struck struck;
    struck.twice = twice;
    std::vector<double> sound(static_cast<std::size_t>(1.3 * k_rate_hz));
    const auto weights = scattered(spots[spot], 0.06, random);
    push(plate, weights, random.between(0.001, 0.004), 0, sound);
    if (twice) {
        struck.after_s = 0.008 * std::pow(300.0 / 8, random.even());
        const double weaker_db = random.between(3, 16);
        std::vector<double> again(sound.size());
        const auto there = scattered(random.even() < 0.5 ? spots[spot] : spots[3], 0.15, random);
        push(plate, there, random.between(0.001, 0.004),
             static_cast<std::size_t>(struck.after_s * k_rate_hz), again);
        const double gain = demo::amplitude_of_db(-weaker_db) * loudest(sound) / loudest(again);
        for (std::size_t n = 0; n < sound.size(); ++n)
            sound[n] += gain * again[n];
    }
    const double top = demo::peak(sound);
    const auto before = static_cast<std::size_t>(0.25 * k_rate_hz);
    auto heard = demo::room_noise(before + sound.size(), k_rate_hz,
                                  0.3 * demo::amplitude_of_db(-random.between(30, 50)), random);
    for (std::size_t n = 0; n < sound.size(); ++n)
        heard[before + n] += 0.3 * sound[n] / top;
    struck.tap.sample_rate_hz = k_rate_hz;
    struck.tap.onset_index = before;
    for (const double x : heard)
        struck.tap.samples.push_back(static_cast<float>(x));
    struck.fit = modes::fit_tap(struck.tap);
    return struck;
}

struct Tally {
    int single = 0, wrong = 0, twice = 0, found = 0;
    void count(const Struck& struck, bool told) {
        (struck.twice ? twice : single) += 1;
        (struck.twice ? found : wrong) += told;
    }
    void tell(const char* name) const {
        std::printf("%-12s of %d single taps %d called double; of %d double %d found\n", name,
                    single, wrong, twice, found);
    }
};

} // namespace

int main(int count, char** given) {
    const int sessions = count > 1 ? std::atoi(given[1]) : 5;
    std::uint64_t seed = count > 2 ? std::strtoull(given[2], nullptr, 10) : 1;
    std::array<Tally, 3> by_kind;
    std::array<Tally, 3> by_delay; // up to 15, 30, 300 ms
    Tally all;
    for (int session = 0; session < sessions; ++session)
        for (std::size_t kind = 0; kind < k_kinds.size(); ++kind) {
            demo::Random random(++seed);
            const Plate plate = some_plate(k_sizes[kind] * random.between(0.88, 1.12), random);
            std::vector<double> radiates;
            for (std::size_t k = 0; k < plate.hz.size(); ++k)
                radiates.push_back(random.between(0.1, 1));
            std::array<std::vector<double>, 4> spots;
            for (auto& spot : spots)
                for (const double r : radiates)
                    spot.push_back(r * random.between(-1, 1));
            std::deque<Struck> taps;
            for (std::size_t i = 0; i < 10; ++i)
                taps.push_back(strike(plate, spots, i % 3, i >= 6, random));
            for (std::size_t i = 0; i < taps.size(); ++i) {
                std::vector<modes::FittedTap> others;
                for (std::size_t k = 0; k < 6; ++k)
                    if (k != i && taps[k].fit.status == modes::FitStatus::ok)
                        others.push_back({nullptr, taps::Spot::unknown, taps[k].fit.partials});
                if (others.size() < 2)
                    continue;
                const Struck& one = taps[i];
                const bool told = modes::was_struck_again(
                    {&one.tap, taps::Spot::unknown, one.fit.partials}, one.fit.input, others, {});
                all.count(one, told);
                by_kind[kind].count(one, told);
                if (one.twice)
                    by_delay[one.after_s <= 0.015  ? 0
                             : one.after_s <= 0.03 ? 1
                                                   : 2]
                        .count(one, told);
            }
        }
    all.tell("all");
    for (std::size_t kind = 0; kind < k_kinds.size(); ++kind)
        by_kind[kind].tell(k_kinds[kind]);
    constexpr std::array k_delays{"8 to 15 ms", "to 30 ms", "to 300 ms"};
    for (std::size_t k = 0; k < k_delays.size(); ++k)
        by_delay[k].tell(k_delays[k]);
    return 0;
}
