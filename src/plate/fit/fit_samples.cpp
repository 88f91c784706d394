#include "plate/fit/fit_inside.hpp"

#include <Eigen/Cholesky>

#include <cmath>
#include <numbers>
#include <random>

namespace platewright::plate {
namespace {

constexpr int k_pairs = 3; // of samples, each with its opposite
// A sample that misses its taps by more than this many deviations of chi-square has fallen into a
// valley that is none.
constexpr double k_poor = 3.0;
constexpr std::size_t k_least_samples = 4; // of fewer the spread says nothing
constexpr double k_near = 0.05; // where a sample settles, of the priors: it is anyone of many

// The observations near the fit, with one solve: of the newest session, whose departure from its
// own straight line the other sessions share.
class Nearby {
public:
    Nearby(const PlateModel& model, const FitStart& start, const Settled& best,
           const Eigen::VectorXd& newest_mm)
        : model_(model), start_(start), best_(best), newest_mm_(newest_mm),
          middle_(fitted_state(model, guess_at(start.wood, best.unknowns), newest_mm)),
          at_(middle_) {
        if (best.observed.series_shapes.size() > 0)
            series_ = follow(model, best.observed.series_shapes, middle_.modes.shapes);
    }

    Observations observe(const FitVector& unknowns) {
        const FittedState& at = at_ =
            fitted_state(model_, guess_at(start_.wood, unknowns), newest_mm_, at_.modes.shapes);
        const FitVector away = unknowns - best_.unknowns;
        Observations o = best_.observed;
        const Eigen::VectorXd line = o.slope * away;
        const auto followed = series_.empty()
                                  ? std::vector<int>{}
                                  : follow(model_, middle_.modes.shapes, at.modes.shapes);
        for (std::size_t i = 0; i < o.rows.size(); ++i) {
            const auto row = static_cast<Eigen::Index>(i);
            const bool is_series = o.rows[i].row == FitRow::series;
            // powers of the constants, or a share of the mass
            if (o.rows[i].row != FitRow::mode && !is_series) {
                const double factor = std::exp(line[row] / o.modelled[row]);
                o.modelled[row] *= factor;
                o.slope.row(row) *= factor;
                continue;
            }
            o.modelled[row] += line[row];
            const int number = o.rows[i].number;
            const int before = is_series ? series_[static_cast<std::size_t>(number - 1)]
                                         : mode_index(middle_.names, number);
            const int now = !is_series   ? mode_index(at.names, number)
                            : before < 0 ? -1
                                         : followed[static_cast<std::size_t>(before)];
            if (now < 0 || before < 0 || now >= at.modes.frequency_hz.size() ||
                before >= middle_.modes.frequency_hz.size())
                continue;
            o.modelled[row] += at.modes.frequency_hz[now] - middle_.modes.frequency_hz[before] -
                               middle_.by_unknown.col(before).dot(away);
            o.slope.row(row) +=
                (at.by_unknown.col(now) - middle_.by_unknown.col(before)).transpose();
        }
        return o;
    }
    void back() { at_ = middle_; }
    const FittedState& last() const { return at_; }

private:
    const PlateModel& model_;
    const FitStart& start_;
    const Settled& best_;
    const Eigen::VectorXd& newest_mm_;
    FittedState middle_, at_;
    std::vector<int> series_; // where each mode of the series is in middle_; empty: none counts
};

} // namespace

Eigen::VectorXd gaussian(Eigen::Index n, std::mt19937& random) {
    const auto even = [&] { return (static_cast<double>(random()) + 0.5) / 4294967296.0; };
    Eigen::VectorXd z(n);
    for (Eigen::Index i = 0; i < n; ++i)
        z[i] = std::sqrt(-2.0 * std::log(even())) * std::cos(2.0 * std::numbers::pi * even());
    return z;
}

void draw_samples(PlateFit& fit, const PlateModel& model, const FitStart& start,
                  const Settled& best, const Eigen::VectorXd& newest_mm,
                  const std::function<bool()>& goes_on) {
    // priors and taps by streams of their own: one tap more leaves the others' luck as it was
    constexpr unsigned k_seed = 20;
    std::mt19937 of_prior(k_seed), of_tap(k_seed + 1);
    Nearby nearby(model, start, best, newest_mm);
    const auto n = best.observed.measured.size();
    const Eigen::MatrixXd of_taps = best.weights.llt().matrixL();
    const FitMatrix of_priors = start.covariance.llt().matrixL();
    FitMatrix covariances = best.covariance;
    const double poor = static_cast<double>(n) + k_poor * std::sqrt(2.0 * static_cast<double>(n));
    for (int pair = 0; pair < k_pairs; ++pair) {
        const FitVector mean = of_priors * gaussian(k_fit_unknowns, of_prior);
        const Eigen::VectorXd off = of_taps * gaussian(n, of_tap);
        for (const double sign : {1.0, -1.0}) {
            nearby.back();
            bool is_stopped = false;
            const Settled one = settle(
                start, sign * mean, sign * mean,
                [&](const FitVector& unknowns) {
                    is_stopped = goes_on && !goes_on();
                    const PlateWood wood = guess_at(start.wood, unknowns).wood;
                    if (is_stopped || !is_physical(wood.left) || !is_physical(wood.right))
                        return Observations{};
                    Observations o = nearby.observe(unknowns);
                    o.measured += sign * off;
                    return o;
                },
                [&](const Observations&) { return best.weights; }, k_near);
            if (is_stopped) {
                fit.status = FitStatus::stopped;
                fit.samples.clear();
                return;
            }
            if (one.status != FitStatus::ok || one.cost > poor)
                continue;
            fit.samples.push_back({guess_at(start.wood, one.unknowns), nearby.last().modes,
                                   nearby.last().names}); // the last observed is where it settled
            covariances += one.covariance;
        }
    }
    fit.sampled_mm = newest_mm;
    // The curvature at the most probable plate may be the valley's narrowest: along it the taps
    // tell now one constant, now the other.
    fit.covariance = covariances / (1.0 + static_cast<double>(fit.samples.size()));
    if (fit.samples.size() < k_least_samples)
        fit.samples.clear();
}

} // namespace platewright::plate
