#include "modes/ring/ring_test.hpp"

#include "modes/ring/few_cycles.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <span>

namespace platewright::modes {
namespace {

// The score's weights, by tests/speed/rings/weigh.py from seeds that docs/detection-results.md does
// not report, every source of sound weighing alike; what they do to sources left out of the fit
// stands there. Each has a case of its own in tests/modes/ring_test_test.cpp.
constexpr double k_prior =
    -16.0; // one strike among fifty things that leap out of a workshop's noise
constexpr double k_few_cycles = -10.1; // times ln(k_few_cycles_q / Q) below that
constexpr double k_mean_q = 2.35;      // times ln Q, up to a plate's: what rings long was struck
constexpr double k_plates_q = 60;
constexpr double k_untold = -2.07; // times ln of the share untold: voices, noise, a knock's echo
constexpr double k_untold_late = -0.64; // the same, past the contact
constexpr double k_unsure =
    -1.28; // times ln of Q's relative deviation: what glides, or is stirred again
constexpr double k_energy =
    -0.18; // times ln of the energy: the louder, the better all this is to be seen
constexpr double k_swell = -0.40; // a dB over 2: strikes fall from their first 10 ms on
constexpr double k_usual_swell_db = 2;
constexpr double k_modes = -1.34;      // times ln of their number: noise takes many
constexpr double k_least_log_odds = 0; // even odds
// Below it lie two of three disturbances of speed_ring_sessions, and one of twenty strikes.
constexpr double k_may_be_log_odds = -4;
// A room as loud as the direct sound brings a plate down here (docs/detection-results.md), and
// makes the steps and thumps in it ring with Q 10 to 38, the longer the less surely.
constexpr double k_in_room_log_odds = -6, k_rings_on_q = 25;

double ln(double x, double least, double most) { return std::log(std::clamp(x, least, most)); }

double over_room(std::span<const double> samples) {
    return std::max(0.0, std::inner_product(samples.begin(), samples.end(), samples.begin(), 0.0) -
                             static_cast<double>(samples.size()));
}

std::span<const double> from_s(const std::vector<double>& samples, double at_s, double rate_hz) {
    return std::span{samples}.subspan(
        std::min(samples.size(), static_cast<std::size_t>(at_s * rate_hz)));
}

/// How far the loudest 10 ms of the first 0.12 s stand over the very first.
double swell_db(const std::vector<double>& ring, double rate_hz) {
    const auto piece = static_cast<std::size_t>(0.010 * rate_hz),
               step = std::max<std::size_t>(1, piece / 4);
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

void weigh_decays(const std::vector<FoundDecay>& decays, RingEvidence& evidence) {
    double all = 0, squares = 0;
    for (const FoundDecay& decay : decays) {
        const double energy = ring_energy(decay.component);
        all += energy;
        squares += energy * energy;
        evidence.mean_q += energy * decay.partial.q;
        evidence.unsure += energy * std::min(1.0, decay.partial.q_sd / decay.partial.q);
    }
    if (!(all > 0))
        return;
    evidence.mean_q /= all;
    evidence.unsure /= all;
    evidence.modes = all * all / squares;
}

} // namespace

RingEvidence weigh_ring(const Stretches& data, const std::vector<double>& left, double rate_hz,
                        const std::vector<Component>& others,
                        const std::vector<FoundDecay>& decays) {
    constexpr double contact_s = 0.020; // with the 5 ms before the first sample
    RingEvidence evidence;
    weigh_decays(decays, evidence);
    const std::vector<double> ring = others.empty() ? data.ring : ring_residual(data, others);
    evidence.energy = over_room(ring);
    evidence.swell_db = swell_db(ring, rate_hz);
    const auto share = [](double part, double of) {
        return of > 0 ? std::min(1.0, part / of) : 1.0;
    };
    evidence.untold = share(over_room(left), evidence.energy);
    evidence.untold_late = share(over_room(from_s(left, contact_s, rate_hz)),
                                 over_room(from_s(ring, contact_s, rate_hz)));
    return evidence;
}

double ring_log_odds(const RingEvidence& evidence) {
    if (!(evidence.mean_q > 0))
        return -100; // nothing rings
    return k_prior + k_few_cycles * std::max(0.0, std::log(k_few_cycles_q / evidence.mean_q)) +
           k_mean_q * ln(evidence.mean_q, k_few_cycles_q, k_plates_q) +
           k_untold * ln(evidence.untold, 0.02, 1) +
           k_untold_late * ln(evidence.untold_late, 0.02, 1) +
           k_unsure * ln(evidence.unsure, 0.01, 1) + k_energy * ln(evidence.energy, 1e2, 1e6) +
           k_swell * std::clamp(evidence.swell_db - k_usual_swell_db, 0.0, 12.0) +
           k_modes * ln(evidence.modes, 1, 40);
}

bool is_ring(const RingEvidence& evidence) { return ring_log_odds(evidence) > k_least_log_odds; }

bool may_be_ring(const RingEvidence& evidence) {
    return ring_log_odds(evidence) > (rings_on(evidence) ? k_in_room_log_odds : k_may_be_log_odds);
}

bool rings_on(const RingEvidence& evidence) {
    return evidence.mean_q * (1 - 2 * evidence.unsure) > k_rings_on_q;
}

} // namespace platewright::modes
