#include "modes/pool.hpp"

#include "base/level.hpp"
#include "base/stats.hpp"
#include "modes/consensus.hpp"
#include "modes/family.hpp"
#include "modes/repeatability.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace platewright::modes {
namespace {

/// A mode that one tap alone knows of may be a noise in the room: it must be strong there.
bool is_trusted(const Family& family) {
    constexpr double strong_db = -10.0;
    if (family.members.size() < 3 || found_in(family) > 1)
        return true;
    return std::any_of(family.members.begin(), family.members.end(),
                       [](const Partial* p) { return p != nullptr && p->level_db > strong_db; });
}

/// Where a tap does not show the mode its level is below the weakest partial that was found.
double level_or_bound(const Family& family, const FittedTap& tap, std::size_t index) {
    if (family.members[index] != nullptr)
        return family.members[index]->level_db;
    double weakest = 0.0;
    for (const Partial& p : tap.partials)
        weakest = std::min(weakest, p.level_db);
    return weakest - 3.0;
}

std::vector<SpotLevel> spot_profile(const Family& family, std::span<const FittedTap> taps) {
    std::map<taps::Spot, std::vector<double>> levels;
    for (std::size_t t = 0; t < taps.size(); ++t) {
        levels[taps[t].spot].push_back(level_or_bound(family, taps[t], t));
    }
    std::vector<SpotLevel> profile;
    double strongest = -1e9;
    for (const auto& [spot, values] : levels) {
        profile.push_back({spot, base::mean(values), base::standard_deviation(values),
                           static_cast<int>(values.size())});
        strongest = std::max(strongest, profile.back().level_db);
    }
    for (SpotLevel& level : profile)
        level.level_db -= strongest;
    return profile;
}

/// One value far off the others does not draw the mean: it is left out, with five or more at hand.
void leave_out_strays(std::vector<double>& values, std::vector<double>& sds) {
    if (values.size() < 5)
        return;
    const double centre = base::median(values);
    const double scale = base::robust_deviation(values);
    std::vector<double> kept_values;
    std::vector<double> kept_sds;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (std::abs(values[i] - centre) > 5.0 * std::hypot(scale, sds[i]))
            continue;
        kept_values.push_back(values[i]);
        kept_sds.push_back(sds[i]);
    }
    values = kept_values;
    sds = kept_sds;
}

/// One tap does not tell how far the next would lie from it. This much is added to what its fit says of itself: what 20
/// recordings of real bars, single strikes all, differed by from the peak of their Fourier transform, and one half of
/// a ring from the other (tests/outside).
void widen_for_one_tap(Mode& mode) {
    constexpr double of_frequency = 0.00058, of_q = 0.1; // a cent; a tenth
    mode.frequency_sd_hz = std::hypot(mode.frequency_sd_hz, of_frequency * mode.frequency_hz);
    mode.q_sd = std::hypot(mode.q_sd, of_q * mode.q);
}

Mode pooled_mode(const Family& family, std::span<const FittedTap> taps) {
    std::vector<double> frequencies;
    std::vector<double> frequency_sds;
    std::vector<double> log_q;
    std::vector<double> log_q_sds;
    double amplitude = 0.0;
    for (const Partial* p : family.members) {
        if (p == nullptr)
            continue;
        frequencies.push_back(p->frequency_hz);
        frequency_sds.push_back(p->frequency_sd_hz);
        log_q.push_back(std::log(p->q));
        log_q_sds.push_back(p->q_sd / p->q);
        amplitude += base::db_to_amplitude(p->level_db) / static_cast<double>(taps.size());
    }
    leave_out_strays(frequencies, frequency_sds);
    leave_out_strays(log_q, log_q_sds);
    const Consensus frequency = consensus(frequencies, frequency_sds);
    const Consensus damping = consensus(log_q, log_q_sds);
    Mode mode;
    mode.frequency_hz = frequency.value;
    mode.frequency_sd_hz = frequency.sd;
    mode.spread_hz = base::standard_deviation(frequencies);
    mode.q = std::exp(damping.value);
    mode.q_sd = mode.q * damping.sd;
    mode.level_db = base::amplitude_to_db(amplitude);
    mode.taps = static_cast<int>(found_in(family));
    if (mode.taps == 1)
        widen_for_one_tap(mode);
    mode.spots = spot_profile(family, taps);
    return mode;
}

} // namespace

Pooled pool(std::span<const FittedTap> taps, const FitParams& params) {
    Pooled pooled;
    std::vector<Family> families = families_of(taps);
    std::erase_if(families, [](const Family& family) { return !is_trusted(family); });
    double strongest = base::k_silence_db;
    for (const Family& family : families) {
        pooled.modes.push_back(pooled_mode(family, taps));
        strongest = std::max(strongest, pooled.modes.back().level_db);
    }
    for (Mode& mode : pooled.modes)
        mode.level_db -= strongest;
    std::erase_if(pooled.modes, [&](const Mode& m) { return m.level_db < params.floor_db; });
    pooled.spread_permille = spread_permille(pooled.modes);
    pooled.outlier = outlier_of(families, taps.size());
    return pooled;
}

} // namespace platewright::modes
