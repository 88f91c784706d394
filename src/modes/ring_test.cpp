#include "modes/ring_test.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <utility>

namespace platewright::modes {
namespace {

// A thump is gone in a few cycles: 13 to 27 simulated, where plates had 30 and more; closed instruments lie between.
constexpr double k_least_mean_q = 16;
// Metal may glide and beat as it likes: no voice is like it.
constexpr double k_metal_mean_q = 1000;
// Doubt: the share the modes leave untold, how unsure their Qs are, and how far the sound swells untold. Without the
// last, 98 % of simulated strikes at 20 dB have 0.20 at most, at 30 dB 0.15, at 40 dB 0.10, and real bars 0.28. Speech
// and thumps that passed for a ring in all else: 0.21 to 0.6.
constexpr double k_most_doubt = 0.30;
// Less room for doubt is left to what dies sooner than a free plate's modes do.
constexpr double k_soon_mean_q = 27, k_most_doubt_of_the_soon = 0.20;
// Strikes swell by 2.3 dB at most in 95 of 100, as two modes beat or the room answers; speech by 4 to 8 dB. A bar over
// its resonator swells as much, but its modes tell that.
constexpr double k_swells_db = 3, k_doubt_per_db = 0.06, k_untold_swell = 0.05;
// From here on modes that stand like the harmonics of one voice are one: at least so many side by side.
constexpr double k_doubt_of_a_voice = 0.16;
constexpr int k_harmonics = 4;

double over_room(const std::vector<double>& samples) {
    return std::max(0.0, std::inner_product(samples.begin(), samples.end(), samples.begin(), 0.0) -
                             static_cast<double>(samples.size()));
}

/// How far the loudest 10 ms of the first 0.12 s stand over the very first.
double swell_db(const std::vector<double>& ring, double rate_hz) {
    const auto piece = static_cast<std::size_t>(0.010 * rate_hz), step = std::max<std::size_t>(1, piece / 4);
    const std::size_t end = std::min(ring.size(), 12 * piece);
    const auto energy_from = [&](std::size_t at) {
        const auto from = ring.begin() + static_cast<std::ptrdiff_t>(at);
        const auto to = from + static_cast<std::ptrdiff_t>(piece);
        return std::inner_product(from, to, from, 0.0);
    };
    if (piece > end)
        return 0;
    const double first = energy_from(0);
    double loudest = first;
    for (std::size_t at = step; at + piece <= end; at += step)
        loudest = std::max(loudest, energy_from(at));
    return first > 0 ? 10 * std::log10(loudest / first) : 0;
}

} // namespace

void RingTest::add_mode(const Component& mode, const Partial& partial) {
    const double energy = ring_energy(mode);
    modes_.push_back({partial.frequency_hz, energy});
    all_ += energy;
    with_q_ += energy * partial.q;
    unsure_ += energy * partial.q_sd / partial.q;
}

void RingTest::add_channel(const Stretches& data, double rate_hz, const DampedFit& fit,
                           const std::vector<Component>& others, const std::vector<Component>& modes) {
    const std::vector<double> ring = others.empty() ? data.ring : ring_residual(data, others);
    const double energy = over_room(ring);
    ring_ += energy;
    swell_db_ += energy * swell_db(ring, rate_hz);
    std::vector<Component> told = fit.components;
    if (others.size() + modes.size() < told.size()) {
        // Solved anew: of two that all but cancel, one may not be among the modes.
        told = modes;
        told.insert(told.end(), others.begin(), others.end());
        told = fit_damped(data, std::move(told), {.max_steps = 0}).components;
    }
    untold_ += over_room(ring_residual(data, told));
}

bool RingTest::passed() const {
    if (!(all_ > 0) || with_q_ < k_least_mean_q * all_)
        return false;
    if (!(ring_ > 0) || with_q_ > k_metal_mean_q * all_)
        return true; // without quiet before it, what stands over the room can't be told from the room
    const double most = with_q_ < k_soon_mean_q * all_ ? k_most_doubt_of_the_soon : k_most_doubt;
    return doubt() <= most && (doubt() <= k_doubt_of_a_voice || !harmonic());
}

double RingTest::doubt() const {
    const double untold = untold_ / ring_;
    const double swells = std::max(0.0, swell_db_ / ring_ - k_swells_db) * std::min(1.0, untold / k_untold_swell);
    return untold + unsure_ / all_ + k_doubt_per_db * swells;
}

/// Whether nearly all the energy lies on multiples of one frequency in a voice's range, several neighbours among
/// them. A plate whose modes stand in octaves has no third, fifth and sixth.
bool RingTest::harmonic() const {
    constexpr double low_hz = 70, high_hz = 350, step = 1.004; // deep men to children
    constexpr double aside = 0.12;   // of the fundamental: a voice glides
    constexpr double share = 0.8;    // of all energy
    constexpr double heard = 0.01;   // of all energy, a harmonic that counts
    for (double fundamental = low_hz; fundamental < high_hz; fundamental *= step) {
        std::map<long, double> harmonics;
        double on = 0;
        for (const Mode& mode : modes_) {
            const double order = std::round(mode.frequency_hz / fundamental);
            if (order < 1 || std::abs(mode.frequency_hz / fundamental - order) > aside)
                continue;
            on += mode.energy;
            harmonics[std::lround(order)] += mode.energy;
        }
        if (on < share * all_)
            continue;
        int side_by_side = 0;
        long last = 0;
        for (const auto& [order, energy] : harmonics) {
            if (energy < heard * all_)
                continue;
            side_by_side = order == last + 1 ? side_by_side + 1 : 1;
            last = order;
            if (side_by_side >= k_harmonics)
                return true;
        }
    }
    return false;
}

} // namespace platewright::modes
