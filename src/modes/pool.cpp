#include "modes/pool.hpp"

#include "base/level.hpp"
#include "base/stats.hpp"
#include "modes/assignment.hpp"
#include "modes/consensus.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace platewright::modes {
namespace {

/// The partials, one a tap at the most, that are one mode.
struct Family {
    double frequency_hz = 0;             // median of its members
    std::vector<const Partial*> members; // by tap; null where not found
};

/// From tap to tap a mode moves by the hold (some permille) and by the fit's own deviation.
double reach_hz(double frequency_hz, double sd_hz) {
    constexpr double hold = 0.006;
    return hold * frequency_hz + 4.0 * sd_hz;
}

void recentre(Family& family) {
    std::vector<double> frequencies;
    for (const Partial* p : family.members) {
        if (p != nullptr)
            frequencies.push_back(p->frequency_hz);
    }
    if (!frequencies.empty())
        family.frequency_hz = base::median(frequencies);
}

/// Gives each tap's partials to the families nearest by, each family taking one, and founds new
/// ones for those left over.
void adopt(std::vector<Family>& families, const FittedTap& tap, std::size_t index,
           std::size_t taps) {
    constexpr double never = 1e3;
    const auto rows = static_cast<Eigen::Index>(tap.partials.size());
    const auto columns = static_cast<Eigen::Index>(families.size());
    Eigen::MatrixXd cost(rows, columns);
    for (Eigen::Index r = 0; r < rows; ++r) {
        const Partial& p = tap.partials[static_cast<std::size_t>(r)];
        for (Eigen::Index c = 0; c < columns; ++c) {
            const double centre = families[static_cast<std::size_t>(c)].frequency_hz;
            const double distance = std::abs(p.frequency_hz - centre);
            const double share = distance / reach_hz(centre, p.frequency_sd_hz);
            cost(r, c) = share < 1.0 ? share * share : never;
        }
    }
    const std::vector<long> family_of = pair_or_leave(cost, 0.5);
    for (std::size_t r = 0; r < tap.partials.size(); ++r) {
        const Partial& p = tap.partials[r];
        if (family_of[r] >= 0) {
            families[static_cast<std::size_t>(family_of[r])].members[index] = &p;
        } else {
            Family family{p.frequency_hz, std::vector<const Partial*>(taps, nullptr)};
            family.members[index] = &p;
            families.push_back(family);
        }
    }
}

std::vector<Family> families_of(std::span<const FittedTap> taps) {
    std::vector<Family> families;
    // Twice: the first pass finds the centres, the second gives partials to the right ones.
    for (int pass = 0; pass < 2; ++pass) {
        for (Family& family : families) {
            recentre(family);
            std::fill(family.members.begin(), family.members.end(), nullptr);
        }
        for (std::size_t t = 0; t < taps.size(); ++t) {
            adopt(families, taps[t], t, taps.size());
            for (Family& family : families)
                recentre(family);
        }
        std::erase_if(families, [](const Family& f) {
            return std::all_of(f.members.begin(), f.members.end(),
                               [](const Partial* p) { return p == nullptr; });
        });
    }
    std::sort(families.begin(), families.end(),
              [](const Family& a, const Family& b) { return a.frequency_hz < b.frequency_hz; });
    return families;
}

std::size_t found_in(const Family& family) {
    return static_cast<std::size_t>(std::count_if(family.members.begin(), family.members.end(),
                                                  [](const Partial* p) { return p != nullptr; }));
}

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
    mode.spots = spot_profile(family, taps);
    return mode;
}

/// How far a tap stands from the others, over the strong modes: root mean square of deviations from
/// the median in units of the taps' usual scatter.
double apartness(const std::vector<Family>& families, std::size_t tap) {
    double sum = 0.0;
    int count = 0;
    for (const Family& family : families) {
        const Partial* p = family.members[tap];
        if (p == nullptr || p->level_db < -30.0 || found_in(family) < 4)
            continue;
        std::vector<double> frequencies;
        for (const Partial* other : family.members) {
            if (other != nullptr)
                frequencies.push_back(other->frequency_hz);
        }
        const double scale = std::hypot(base::robust_deviation(frequencies), p->frequency_sd_hz);
        const double z = (p->frequency_hz - family.frequency_hz) / std::max(scale, 1e-9);
        sum += z * z;
        ++count;
    }
    return count == 0 ? 0.0 : std::sqrt(sum / count);
}

} // namespace

Pooled pool(std::span<const FittedTap> taps, const FitParams& params) {
    Pooled pooled;
    std::vector<Family> families = families_of(taps);
    std::erase_if(families, [](const Family& family) { return !is_trusted(family); });
    std::vector<double> spreads;
    double strongest = base::k_silence_db;
    for (const Family& family : families) {
        pooled.modes.push_back(pooled_mode(family, taps));
        strongest = std::max(strongest, pooled.modes.back().level_db);
    }
    for (Mode& mode : pooled.modes) {
        mode.level_db -= strongest;
        constexpr double strong_db = -30.0;
        if (mode.taps > 1 && mode.level_db > strong_db) {
            spreads.push_back(1000.0 * mode.spread_hz / mode.frequency_hz);
        }
    }
    std::erase_if(pooled.modes, [&](const Mode& m) { return m.level_db < params.floor_db; });
    if (!spreads.empty())
        pooled.spread_permille = base::median(spreads);
    constexpr double apart = 4.0;
    double most = apart;
    for (std::size_t t = 0; t < taps.size(); ++t) {
        const double here = apartness(families, t);
        if (here > most) {
            most = here;
            pooled.outlier = static_cast<int>(t);
        }
    }
    return pooled;
}

} // namespace platewright::modes
