#include "modes/pool/pool.hpp"

#include "base/level.hpp"
#include "base/stats.hpp"
#include "modes/pool/consensus.hpp"
#include "modes/pool/crowding.hpp"
#include "modes/pool/family.hpp"
#include "modes/pool/repeatability.hpp"
#include "modes/ring/few_cycles.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>

namespace platewright::modes {
namespace {

/// What a partial's deviations hold beyond the noise's: the room, two modes that one pole stands
/// for, a gain that moved. Noise moves the logarithm of a decaying sinusoid's level and its decay
/// together: σ_δ / δ = √2 σ_ln a, and its angular frequency by σ_δ (the Fisher information of one
/// damped sinusoid). The level's deviation is of noise alone.
double beyond_noise(double relative_sd, const Partial& p) {
    const double of_noise = std::numbers::sqrt2 * std::numbers::ln10 / 20 * p.level_sd_db;
    return std::sqrt(std::max(0.0, relative_sd * relative_sd - of_noise * of_noise));
}

/// What few taps know of, and only faintly, may be a noise in the room or the hammer: it must be
/// strong somewhere, or found in a third of three taps and more, and more than once. Where the room
/// answers, its own partials are strong too, and come and go as the strike finds them: two of five.
/// What is gone in a few cycles may be strong and yet the hammer's or the hand's.
bool is_trusted(const Family& family, bool in_room) {
    constexpr double strong_db = -10.0;
    const std::size_t found = found_in(family), taps = family.members.size();
    if (taps < 3)
        return true;
    if (in_room)
        return 5 * found >= 2 * taps;
    if (found > 1 && 3 * found >= taps)
        return true;
    return std::any_of(family.members.begin(), family.members.end(), [](const Partial* p) {
        return p != nullptr && p->level_db > strong_db && p->q > k_few_cycles_q;
    });
}

/// In how many taps both are found.
std::size_t found_together(const Family& a, const Family& b) {
    std::size_t together = 0;
    for (std::size_t t = 0; t < a.members.size(); ++t)
        together += a.members[t] != nullptr && b.members[t] != nullptr ? 1U : 0U;
    return together;
}

/// Whether a mode is but another's shadow: within the other's width, weaker by far, and mostly
/// found where the other is not. What misses its family by a little, in a tap of much noise, founds
/// one of its own.
bool is_satellite(std::size_t i, const std::vector<Family>& families,
                  const std::vector<Mode>& modes) {
    constexpr double weaker_db = 6.0;
    for (std::size_t k = 0; k < modes.size(); ++k) {
        const double width_hz =
            modes[k].frequency_hz / modes[k].q + modes[i].frequency_hz / modes[i].q;
        if (k != i && std::abs(modes[k].frequency_hz - modes[i].frequency_hz) < width_hz &&
            modes[k].level_db > modes[i].level_db + weaker_db &&
            found_in(families[k]) >= found_in(families[i]) &&
            2 * found_together(families[i], families[k]) < found_in(families[i]))
            return true;
    }
    return false;
}

/// Whether it is the thump of the hammer or the hold: gone in a few cycles beside modes that ring
/// far longer, and faint, or not to be found again in the other taps, for a mode comes with each.
bool is_thump(const Mode& mode, double usual, std::size_t taps) {
    constexpr double most_q = 12.0, faint_db = -30.0, sooner = 0.4;
    const bool comes_again = taps >= 3 && 2 * static_cast<std::size_t>(mode.taps) >= taps;
    return mode.q < most_q && mode.q < sooner * usual && (mode.level_db < faint_db || !comes_again);
}

/// Median Q of what carries the sound.
double usual_q(const std::vector<Mode>& modes) {
    constexpr double carries_db = -20.0;
    std::vector<double> qs;
    for (const Mode& mode : modes)
        if (mode.level_db > carries_db)
            qs.push_back(mode.q);
    return qs.empty() ? 0.0 : base::median(qs);
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

/// How many robust deviations from the median the farthest of n normal values lies in 99 of 100
/// samples (simulated, 60 000 samples a row; tests/modes/pool_test.cpp does it again). The
/// deviation of few values is often far too small.
double farthest_of(std::size_t n) {
    constexpr std::array of_few{18.7, 10.1, 10.7, 8.2, 8.3}; // n = 5 ... 9
    return n < 5 + of_few.size() ? of_few[n - 5] : 4.0 + 28.0 / static_cast<double>(n);
}

/// One value far off the others does not draw the mean: it is left out, with five or more at hand.
void leave_out_strays(std::vector<double>& values, std::vector<double>& sds) {
    if (values.size() < 5)
        return;
    const double centre = base::median(values);
    const double scale = base::robust_deviation(values);
    const double reach = farthest_of(values.size());
    std::vector<double> kept_values;
    std::vector<double> kept_sds;
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (std::abs(values[i] - centre) > reach * std::hypot(scale, sds[i]))
            continue;
        kept_values.push_back(values[i]);
        kept_sds.push_back(sds[i]);
    }
    values = kept_values;
    sds = kept_sds;
}

/// The part of the taps' deviations that more taps don't make smaller, for each tap is off alike;
/// as a share of the half width. Scaled so that intervals by Student's quantile hold it as a normal
/// deviate's: it is not learnt from the scatter.
double shared_deviation(const Family& family, double (*relative_sd)(const Partial&)) {
    std::vector<double> shared;
    for (const Partial* p : family.members)
        if (p != nullptr)
            shared.push_back(beyond_noise(relative_sd(*p), *p));
    if (shared.size() < 2)
        return 0;
    return base::median(shared) * base::normal_quantile(0.975) /
           base::student_quantile(0.975, static_cast<int>(shared.size()) - 1);
}

/// One tap does not tell how far the next would lie from it. This much is added to what its fit
/// says of itself: what 20 recordings of real bars, single strikes all, differed by from the peak
/// of their Fourier transform, and one half of a ring from the other (tests/outside). And two modes
/// a twelfth of their half width apart are one to a single tap, 60 dB over the noise: what they
/// leave untold falls with the fourth power of their distance, what they pull with the first.
void widen_for_one_tap(Mode& mode) {
    constexpr double of_frequency = 0.00058, of_q = 0.1; // a cent; a tenth
    constexpr double of_half_width = 0.04;
    mode.frequency_sd_hz = std::hypot(mode.frequency_sd_hz, of_frequency * mode.frequency_hz,
                                      of_half_width * 0.5 * mode.frequency_hz / mode.q);
    mode.q_sd = std::hypot(mode.q_sd, of_q * mode.q);
}

/// A family's frequencies, whose unit is the frequency, and logarithms of Q; without strays.
struct MeasuredMode {
    Measured frequency, log_q;
};

MeasuredMode measured(const Family& family) {
    MeasuredMode mode;
    mode.frequency.unit = family.frequency_hz;
    for (const Partial* p : family.members) {
        if (p == nullptr)
            continue;
        mode.frequency.values.push_back(p->frequency_hz);
        mode.frequency.sds.push_back(p->frequency_sd_hz);
        mode.log_q.values.push_back(std::log(p->q));
        mode.log_q.sds.push_back(p->q_sd / p->q);
    }
    leave_out_strays(mode.frequency.values, mode.frequency.sds);
    leave_out_strays(mode.log_q.values, mode.log_q.sds);
    return mode;
}

/// How much the session's modes scatter from tap to tap, taken for as much as two more taps tell
/// where four others tell it: the hold moves all of them, but not all alike.
struct UsualHold {
    double frequency = 0, log_q = 0; ///< in parts of the frequency; of ln Q
    int freedom = 0;

    explicit UsualHold(const std::vector<MeasuredMode>& modes) {
        std::vector<Measured> frequencies, log_qs;
        for (const MeasuredMode& mode : modes) {
            frequencies.push_back(mode.frequency);
            log_qs.push_back(mode.log_q);
        }
        constexpr std::ptrdiff_t most = 2, told_by = 2; // freedoms; other modes a freedom
        const auto others =
            std::ranges::count_if(frequencies,
                                  [](const Measured& one) { return one.values.size() > 1; }) -
            1;
        freedom = static_cast<int>(std::clamp<std::ptrdiff_t>(others / told_by, 0, most));
        frequency = between_of(frequencies);
        log_q = between_of(log_qs);
    }
};

Mode pooled_mode(const Family& family, const MeasuredMode& measured, const UsualHold& usual,
                 std::span<const FittedTap> taps) {
    double amplitude = 0.0;
    for (const Partial* p : family.members)
        if (p != nullptr)
            amplitude += base::db_to_amplitude(p->level_db) / static_cast<double>(taps.size());
    const Consensus frequency =
        consensus(measured.frequency.values, measured.frequency.sds,
                  {usual.frequency * measured.frequency.unit, usual.freedom});
    const Consensus damping =
        consensus(measured.log_q.values, measured.log_q.sds, {usual.log_q, usual.freedom});
    Mode mode;
    mode.frequency_hz = frequency.value;
    mode.q = std::exp(damping.value);
    mode.frequency_sd_hz =
        std::hypot(frequency.sd, 0.5 * mode.frequency_hz / mode.q *
                                     shared_deviation(family, [](const Partial& p) {
                                         return p.frequency_sd_hz / (0.5 * p.frequency_hz / p.q);
                                     }));
    mode.spread_hz = base::standard_deviation(measured.frequency.values);
    mode.q_sd = mode.q * std::hypot(damping.sd, shared_deviation(family, [](const Partial& p) {
                                        return p.q_sd / p.q;
                                    }));
    mode.level_db = base::amplitude_to_db(amplitude);
    mode.taps = static_cast<int>(found_in(family));
    if (mode.taps == 1)
        widen_for_one_tap(mode);
    mode.spots = spot_profile(family, taps);
    return mode;
}

} // namespace

bool is_in_room(std::span<const FittedTap> taps) {
    constexpr double least = 0.03; // of Q
    std::vector<double> beyond;
    for (const FittedTap& tap : taps)
        for (const Partial& p : tap.partials)
            beyond.push_back(beyond_noise(p.q_sd / p.q, p));
    return !beyond.empty() && base::median(beyond) > least;
}

Pooled pool(std::span<const FittedTap> taps, const FitParams& params) {
    Pooled pooled;
    std::vector<Family> families = families_of(taps);
    const bool in_room = is_in_room(taps);
    std::erase_if(families,
                  [in_room](const Family& family) { return !is_trusted(family, in_room); });
    std::vector<Mode> all;
    double strongest = base::k_silence_db;
    std::vector<MeasuredMode> measurements;
    for (const Family& family : families)
        measurements.push_back(measured(family));
    const UsualHold usual_hold(measurements);
    for (std::size_t i = 0; i < families.size(); ++i) {
        all.push_back(pooled_mode(families[i], measurements[i], usual_hold, taps));
        strongest = std::max(strongest, all.back().level_db);
    }
    for (Mode& mode : all)
        mode.level_db -= strongest;
    const double usual = usual_q(all);
    for (std::size_t i = 0; i < all.size(); ++i)
        if (all[i].level_db >= params.floor_db && !is_thump(all[i], usual, taps.size()) &&
            !is_satellite(i, families, all))
            pooled.modes.push_back(all[i]);
    widen_for_neighbours(pooled.modes);
    pooled.spread_permille = spread_permille(pooled.modes);
    pooled.outlier = outlier_of(families, taps.size());
    return pooled;
}

Interval interval(double value, double sd, int taps) {
    const double reach =
        (taps > 1 ? base::student_quantile(0.975, taps - 1) : base::normal_quantile(0.975)) * sd;
    return {value - reach, value + reach};
}

} // namespace platewright::modes
