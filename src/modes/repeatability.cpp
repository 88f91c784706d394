#include "modes/repeatability.hpp"

#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace platewright::modes {
namespace {

constexpr double k_strong_db = -30.0;

double apartness(std::span<const Family> families, std::size_t tap) {
    constexpr double least_scatter = 2e-4; // of frequency: steadier no hand is
    double sum = 0.0;
    int count = 0;
    for (const Family& family : families) {
        const Partial* p = family.members[tap];
        if (p == nullptr || p->level_db < k_strong_db || found_in(family) < 4)
            continue;
        std::vector<double> frequencies;
        for (const Partial* other : family.members) {
            if (other != nullptr)
                frequencies.push_back(other->frequency_hz);
        }
        const double usual =
            std::max(base::robust_deviation(frequencies), least_scatter * family.frequency_hz);
        const double z =
            (p->frequency_hz - family.frequency_hz) / std::hypot(usual, p->frequency_sd_hz);
        sum += z * z;
        ++count;
    }
    return count == 0 ? 0.0 : std::sqrt(sum / count);
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

int outlier_of(std::span<const Family> families, std::size_t taps) {
    constexpr double apart = 4.0;
    double most = apart;
    int outlier = -1;
    for (std::size_t t = 0; t < taps; ++t) {
        const double here = apartness(families, t);
        if (here > most) {
            most = here;
            outlier = static_cast<int>(t);
        }
    }
    return outlier;
}

} // namespace platewright::modes
