#include "plate/fit/series.hpp"

#include "plate/fit/fit_inside.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <random>

namespace platewright::plate {
namespace {

constexpr int k_draws = 6000;
constexpr double k_sure = 0.8;
// Two strikes' places leave a third of a plate's modes unheard; holder, bench and hand sound about
// once an octave (own simulated sessions; docs/estimation-results.md).
constexpr double k_heard_share = 0.7, k_foreign_per_octave = 1.0;
constexpr double k_missed = 1.0 - k_heard_share;
constexpr double k_foreign_density = k_foreign_per_octave / std::numbers::ln2; // of ln f
// Draws that explain what was heard; where there are fewer, nothing is told.
constexpr double k_least_draws = 12.0;

/// Sums over all ways to tell what was heard in one plate.
class Ways {
public:
    Ways(Eigen::Index heard, Eigen::Index modes)
        : matched_(heard, modes), told_(heard + 1, modes + 1), foreign_(heard + 1, modes + 1),
          to_come_(heard + 1, modes + 1), to_come_foreign_(heard + 1, modes + 1) {}

    /// Likelihood of a heard mode as this mode; modes from low to high.
    double& matched(Eigen::Index i, Eigen::Index j) { return matched_(i, j); }

    /// Likelihood of all that was heard. Between two matches first the modes are passed over that
    /// were not heard and then the sounds that are none, so that each way counts once.
    double sum() {
        told_.setZero();
        foreign_.setZero();
        told_(0, 0) = 1.0;
        for (Eigen::Index i = 0; i <= matched_.rows(); ++i)
            for (Eigen::Index j = 0; j <= matched_.cols(); ++j) {
                if (i > 0 && j > 0)
                    told_(i, j) += before(i, j) * matched_(i - 1, j - 1);
                if (j > 0)
                    told_(i, j) += told_(i, j - 1) * k_missed;
                if (i > 0)
                    foreign_(i, j) += (told_(i - 1, j) + foreign_(i - 1, j)) * k_foreign_density;
            }
        return told_(matched_.rows(), matched_.cols()) + foreign_(matched_.rows(), matched_.cols());
    }

    /// Part of that sum in which a heard mode is this mode, for all; after sum().
    Eigen::MatrixXd parts() {
        const Eigen::Index n = matched_.rows(), m = matched_.cols();
        to_come_.setZero();
        to_come_foreign_.setZero();
        for (Eigen::Index i = n; i >= 0; --i)
            for (Eigen::Index j = m; j >= 0; --j) {
                if (i == n && j == m) {
                    to_come_(i, j) = to_come_foreign_(i, j) = 1.0;
                    continue;
                }
                const double next = i < n && j < m ? matched_(i, j) * to_come_(i + 1, j + 1) : 0.0;
                to_come_foreign_(i, j) = next;
                if (i < n)
                    to_come_foreign_(i, j) += k_foreign_density * to_come_foreign_(i + 1, j);
                to_come_(i, j) = next;
                if (i < n)
                    to_come_(i, j) += k_foreign_density * to_come_foreign_(i + 1, j);
                if (j < m)
                    to_come_(i, j) += k_missed * to_come_(i, j + 1);
            }
        Eigen::MatrixXd parts(n, m);
        for (Eigen::Index i = 0; i < n; ++i)
            for (Eigen::Index j = 0; j < m; ++j)
                parts(i, j) = before(i + 1, j + 1) * matched_(i, j) * to_come_(i + 1, j + 1);
        return parts;
    }

private:
    double before(Eigen::Index i, Eigen::Index j) const {
        return told_(i - 1, j - 1) + foreign_(i - 1, j - 1);
    }
    // By the heard ones and modes that are behind; the last was a match or an unheard mode, or a
    // foreign sound. Then the same of what is to come.
    Eigen::MatrixXd matched_, told_, foreign_, to_come_, to_come_foreign_;
};

// The density of a heard mode's ln f about where the model has it, by deviations off.
double matched_density(double deviations, double sd) {
    return k_heard_share * std::exp(-0.5 * deviations * deviations) /
           (sd * std::sqrt(2.0 * std::numbers::pi));
}

} // namespace

double worth_of_match() {
    const double sd = std::hypot(k_series_alone, k_series_together);
    return 2.0 * std::log(matched_density(0.0, sd) / (k_missed * k_foreign_density));
}

std::vector<SeriesMatch> match_series(const SeriesForetold& foretold,
                                      std::span<const HeardMode> heard) {
    std::vector<std::size_t> asked; // from low to high
    for (std::size_t i = 0; i < heard.size(); ++i)
        if (heard[i].frequency_hz < foretold.highest_hz)
            asked.push_back(i);
    std::ranges::sort(asked, {}, [&](std::size_t i) { return heard[i].frequency_hz; });
    const auto n = static_cast<Eigen::Index>(asked.size());
    const Eigen::Index m = foretold.log_hz.size();
    if (n == 0 || m == 0)
        return {};
    constexpr unsigned k_seed = 30;
    std::mt19937 random(k_seed);
    Ways ways(n, m);
    Eigen::MatrixXd chances = Eigen::MatrixXd::Zero(n, m);
    double all = 0.0, squares = 0.0;
    std::vector<Eigen::Index> order(static_cast<std::size_t>(m));
    for (int draw = 0; draw < k_draws; ++draw) {
        const Eigen::VectorXd plate = foretold.factor * gaussian(foretold.factor.cols(), random);
        const Eigen::VectorXd at =
            foretold.log_hz + foretold.slope * plate +
            Eigen::VectorXd::Constant(m, k_series_together * gaussian(1, random)[0]);
        std::iota(order.begin(), order.end(), Eigen::Index{0});
        std::ranges::sort(order, {}, [&](Eigen::Index j) { return at[j]; });
        for (Eigen::Index i = 0; i < n; ++i) {
            const HeardMode& one = heard[asked[static_cast<std::size_t>(i)]];
            const double sd = std::hypot(std::hypot(one.sd_hz / one.frequency_hz, foretold.repeat),
                                         k_series_alone);
            for (Eigen::Index j = 0; j < m; ++j) {
                const double off =
                    (std::log(one.frequency_hz) - at[order[static_cast<std::size_t>(j)]]) / sd;
                ways.matched(i, j) = matched_density(off, sd);
            }
        }
        const double weight = ways.sum();
        all += weight;
        squares += weight * weight;
        const Eigen::MatrixXd parts = ways.parts();
        for (Eigen::Index j = 0; j < m; ++j)
            chances.col(order[static_cast<std::size_t>(j)]) += parts.col(j);
    }
    if (!(all > 0.0) || all * all < k_least_draws * squares)
        return {};
    std::vector<SeriesMatch> matches;
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < m; ++j)
            if (chances(i, j) >= k_sure * all)
                matches.push_back({asked[static_cast<std::size_t>(i)],
                                   foretold.modes[static_cast<std::size_t>(j)],
                                   chances(i, j) / all});
    return matches;
}

} // namespace platewright::plate
