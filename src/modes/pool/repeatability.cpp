#include "modes/pool/repeatability.hpp"

#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <vector>

namespace platewright::modes {
namespace {

constexpr double k_repeats_db = -30.0;

/// How far a family's partials lie apart as a rule; nothing of one that too few taps show.
std::optional<double> usual_scatter(const Family& family) {
    constexpr double least_scatter = 2e-4; // of frequency: steadier no hand is
    if (found_in(family) < 4)
        return std::nullopt;
    std::vector<double> frequencies;
    for (const Partial* p : family.members)
        if (p != nullptr)
            frequencies.push_back(p->frequency_hz);
    return std::max(base::robust_deviation(frequencies), least_scatter * family.frequency_hz);
}

double apartness(std::span<const Family> families, std::span<const std::optional<double>> usual,
                 std::size_t tap) {
    double sum = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < families.size(); ++i) {
        const Partial* p = families[i].members[tap];
        if (p == nullptr || p->level_db < k_repeats_db || !usual[i])
            continue;
        const double z = (p->frequency_hz - families[i].frequency_hz) /
                         std::hypot(*usual[i], p->frequency_sd_hz);
        sum += z * z;
        ++count;
    }
    return count == 0 ? 0.0 : std::sqrt(sum / count);
}

} // namespace

double spread_permille(std::span<const Mode> modes) {
    std::vector<double> spreads;
    for (const Mode& mode : modes) {
        if (mode.taps > 1 && mode.level_db > k_repeats_db)
            spreads.push_back(1000.0 * mode.spread_hz / mode.frequency_hz);
    }
    return spreads.empty() ? 0.0 : base::median(spreads);
}

int outlier_of(std::span<const Family> families, std::size_t taps) {
    constexpr double apart = 4.0;
    std::vector<std::optional<double>> usual;
    for (const Family& family : families)
        usual.push_back(usual_scatter(family));
    double most = apart;
    int outlier = -1;
    for (std::size_t t = 0; t < taps; ++t) {
        const double here = apartness(families, usual, t);
        if (here > most) {
            most = here;
            outlier = static_cast<int>(t);
        }
    }
    return outlier;
}

} // namespace platewright::modes
