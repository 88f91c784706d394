#include "modes/pool/family.hpp"

#include "modes/pool/assignment.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace platewright::modes {
namespace {

/// From tap to tap a mode moves by the hold (some permille; a percent where it slips) and by the
/// fit's own deviation. What is that unsure of itself may be either neighbour, and is none of them.
double reach_hz(double frequency_hz, double sd_hz) {
    constexpr double hold = 0.010, most = 0.04;
    return std::min(hold * frequency_hz + 4.0 * sd_hz, most * frequency_hz);
}

/// Families while they gather: each with its members' frequencies in order, so that its centre
/// costs no sorting.
class Gathering {
public:
    std::vector<Family> families;

    void found(Family family) {
        families.push_back(std::move(family));
        frequencies_.emplace_back();
    }
    void join(std::size_t family, const Partial& p, std::size_t tap) {
        families[family].members[tap] = &p;
        std::vector<double>& all = frequencies_[family];
        all.insert(std::ranges::upper_bound(all, p.frequency_hz), p.frequency_hz);
        joined_.push_back(family);
    }
    /// After a tap: the centre is the median.
    void recentre() {
        for (const std::size_t family : std::exchange(joined_, {})) {
            const std::vector<double>& all = frequencies_[family];
            const std::size_t half = all.size() / 2;
            families[family].frequency_hz =
                all.size() % 2 == 1 ? all[half] : 0.5 * (all[half - 1] + all[half]);
        }
    }
    /// Only the centres stay.
    void scatter() {
        for (Family& family : families)
            std::ranges::fill(family.members, nullptr);
        for (std::vector<double>& all : frequencies_)
            all.clear();
    }
    void forget_empty() {
        for (std::size_t i = families.size(); i-- > 0;)
            if (frequencies_[i].empty()) {
                families.erase(families.begin() + static_cast<std::ptrdiff_t>(i));
                frequencies_.erase(frequencies_.begin() + static_cast<std::ptrdiff_t>(i));
            }
    }

private:
    std::vector<std::vector<double>> frequencies_;
    std::vector<std::size_t> joined_;
};

/// Gives each tap's partials to the families nearest by, each family taking one, and founds new
/// ones for those left over.
void adopt(Gathering& gathering, const FittedTap& tap, std::size_t index, std::size_t taps) {
    constexpr double never = 1e3;
    const std::vector<Family>& families = gathering.families;
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
            gathering.join(static_cast<std::size_t>(family_of[r]), p, index);
            continue;
        }
        gathering.found({p.frequency_hz, std::vector<const Partial*>(taps, nullptr)});
        gathering.join(families.size() - 1, p, index);
    }
    gathering.recentre();
}

} // namespace

std::vector<Family> families_of(std::span<const FittedTap> taps) {
    Gathering gathering;
    // Twice: the first pass finds the centres, the second gives partials to the right ones.
    for (int pass = 0; pass < 2; ++pass) {
        gathering.scatter();
        for (std::size_t t = 0; t < taps.size(); ++t)
            adopt(gathering, taps[t], t, taps.size());
        gathering.forget_empty();
    }
    std::vector<Family> families = std::move(gathering.families);
    std::sort(families.begin(), families.end(),
              [](const Family& a, const Family& b) { return a.frequency_hz < b.frequency_hz; });
    return families;
}

std::size_t found_in(const Family& family) {
    return static_cast<std::size_t>(std::count_if(family.members.begin(), family.members.end(),
                                                  [](const Partial* p) { return p != nullptr; }));
}

} // namespace platewright::modes
