#include "modes/family.hpp"

#include "base/stats.hpp"
#include "modes/assignment.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

/// From tap to tap a mode moves by the hold (some permille; a percent where it slips) and by the
/// fit's own deviation.
double reach_hz(double frequency_hz, double sd_hz) {
    constexpr double hold = 0.010;
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

} // namespace

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

} // namespace platewright::modes
