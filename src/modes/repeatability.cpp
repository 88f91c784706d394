#include "modes/repeatability.hpp"

#include "base/stats.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

constexpr double k_strong_db = -30.0;
constexpr double k_too_wide_permille = 5.0;

/// A tap's deviations from the others over its strong modes, in logarithms and in deviations.
struct Apartness {
    std::vector<double> log_shifts;
    double square = 0; // mean of squares, in usual deviations
};

double logarithm_of(const Partial& p, bool damping) {
    return std::log(damping ? p.q : p.frequency_hz);
}

double own_sd(const Partial& p, bool damping) {
    return damping ? p.q_sd / p.q : p.frequency_sd_hz / p.frequency_hz;
}

Apartness apartness(std::span<const Family> families, std::size_t tap, bool damping) {
    // Below this scatter even a steady hand and a perfect fit would not get.
    const double least_scale = damping ? 0.02 : 2e-4;
    Apartness result;
    for (const Family& family : families) {
        const Partial* p = family.members[tap];
        if (p == nullptr || p->level_db < k_strong_db || found_in(family) < 4)
            continue;
        std::vector<double> logarithms;
        for (const Partial* other : family.members) {
            if (other != nullptr)
                logarithms.push_back(logarithm_of(*other, damping));
        }
        const double shift = logarithm_of(*p, damping) - base::median(logarithms);
        const double usual = std::max(base::robust_deviation(logarithms), least_scale);
        const double scale = std::hypot(usual, own_sd(*p, damping));
        result.log_shifts.push_back(shift);
        result.square += shift * shift / (scale * scale);
    }
    if (!result.log_shifts.empty())
        result.square /= static_cast<double>(result.log_shifts.size());
    return result;
}

std::string why_apart(const Apartness& apart, bool damping) {
    const double typical = base::median(apart.log_shifts);
    const bool one_side = std::all_of(apart.log_shifts.begin(), apart.log_shifts.end(),
                                      [typical](double shift) { return shift * typical > 0.0; });
    if (!one_side)
        return damping ? "its damping scatters about the other taps' (the hold?)"
                       : "its modes lie on both sides of the other taps' (the hold, or a noise?)";
    const std::string percent = base::fixed(100.0 * std::abs(std::expm1(typical)), damping ? 0 : 1);
    if (damping)
        return "its Q lies " + percent + " % " + (typical > 0.0 ? "above" : "below") +
               " the other taps' (the hold?)";
    return "its modes lie " + percent + " % " + (typical > 0.0 ? "above" : "below") +
           " the other taps' (the hold?)";
}

} // namespace

double spread_permille(std::span<const Mode> modes) {
    std::vector<double> spreads;
    for (const Mode& mode : modes) {
        if (mode.taps > 1 && mode.level_db > k_strong_db)
            spreads.push_back(1000.0 * mode.spread_hz / mode.frequency_hz);
    }
    return spreads.empty() ? 0.0 : base::median(spreads);
}

Outlier outlier_of(std::span<const Family> families, std::size_t taps) {
    constexpr double apart = 4.0;
    double most = apart * apart;
    Outlier outlier;
    for (std::size_t t = 0; t < taps; ++t) {
        for (bool damping : {false, true}) {
            const Apartness here = apartness(families, t, damping);
            if (here.square <= most)
                continue;
            most = here.square;
            outlier = {static_cast<int>(t), why_apart(here, damping)};
        }
    }
    return outlier;
}

std::string spread_remark(double permille) {
    if (permille <= k_too_wide_permille)
        return {};
    return "The taps differ by " + base::fixed(0.1 * permille, 1) +
           " % from one to the next: too much to compare this session with another. Hold or hang "
           "the plate again at a nodal point, and tap it afresh.";
}

} // namespace platewright::modes
