#include "plate/fit/fit_observer.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU> // inverse

#include <algorithm>
#include <cmath>
#include <set>

namespace platewright::plate {
namespace {

constexpr double k_foreign_mode = 3.0; // deviations from which a heard mode is none of the series
// What the named modes, masses and priors may be farther off with the heard modes than without:
// chi-square's mean of as many as there are modes heard, and so many of its deviations.
constexpr double k_contradicts = 3.0;

// The heard mode that stands off farthest, beyond k_foreign_mode; where none does, the end.
auto foreign(FitObserver& observer, const Settled& settled) {
    auto& series = observer.series().rows;
    auto farthest = series.end();
    double most = k_foreign_mode;
    const Observations& o = settled.observed;
    for (std::size_t i = 0; i < o.rows.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        const double off =
            std::abs(o.measured[k] - o.modelled[k]) / std::sqrt(settled.weights(k, k));
        if (o.rows[i].row != FitRow::series || off <= most)
            continue;
        most = off;
        farthest = std::ranges::find_if(series, [&](const FitObserver::Series::Row& row) {
            return row.session == o.rows[i].session && row.match.heard == o.rows[i].reading;
        });
    }
    return farthest;
}

// How many different modes of the model were heard.
std::size_t modes_heard(const FitObserver::Series& series) {
    std::set<int> modes;
    for (const auto& row : series.rows)
        modes.insert(row.match.mode);
    return modes.size();
}

// The cost but for the heard modes.
double named_cost(const FitStart& start, const Settled& settled) {
    const Observations& o = settled.observed;
    std::vector<Eigen::Index> rows;
    for (std::size_t i = 0; i < o.rows.size(); ++i)
        if (o.rows[i].row != FitRow::series)
            rows.push_back(static_cast<Eigen::Index>(i));
    const Eigen::VectorXd off = (o.measured - o.modelled)(rows);
    const Eigen::LLT<Eigen::MatrixXd> weights(settled.weights(rows, rows));
    return off.dot(weights.solve(off)) + settled.unknowns.dot(start.information * settled.unknowns);
}

// The fit taken on to the heard modes that are matched, less those that the rest contradicts.
struct WithHeard {
    Settled settled;
    FitObserver::Series series; // no rows: they contradict the named ones
    bool is_whole = true;       // none had to be left out

    // Each heard mode explained, less what is off.
    double score() const {
        return worth_of_match() * static_cast<double>(series.rows.size()) - settled.cost;
    }
};

WithHeard take_on(const FitStart& start, const FitVector& from, const Settled& named,
                  FitObserver& observer) {
    WithHeard with{{}, {}, !observer.series().rows.empty()};
    with.settled.unknowns = from;
    while (!observer.series().rows.empty()) {
        with.settled = settle_measured(start, with.settled.unknowns, observer);
        if (with.settled.status != FitStatus::ok)
            break;
        if (const auto one = foreign(observer, with.settled); one != observer.series().rows.end()) {
            observer.series().rows.erase(one);
            with.is_whole = false;
            continue;
        }
        const auto more = static_cast<double>(modes_heard(observer.series()));
        const bool is_allowed = named_cost(start, with.settled) - named.cost <=
                                more + k_contradicts * std::sqrt(2.0 * more);
        if (is_allowed &&
            (is_far_off(named.unknowns, start.covariance, named.covariance) ||
             !is_far_off(with.settled.unknowns, start.covariance, with.settled.covariance)))
            with.series = observer.series();
        break;
    }
    return with;
}

// Heard modes matched not from where the named ones lead but from the first step towards them:
// wood and arch can give the same three modes in two valleys, and the series knows one from the
// other.
FitVector match_from_before(const FitStart& start, FitObserver& observer) {
    observer.series() = {};
    const Observations o = observer.observe(FitVector::Zero());
    if (o.rows.empty())
        return FitVector::Zero();
    const Eigen::LLT<Eigen::MatrixXd> weights(observer.covariance(o));
    const FitMatrix covariance =
        (start.information + FitMatrix(o.slope.transpose() * weights.solve(o.slope))).inverse();
    const FitVector first =
        covariance * (o.slope.transpose() * weights.solve(o.measured - o.modelled));
    if (!observer.observe(first).rows.empty())
        observer.match_heard(covariance);
    return first;
}

} // namespace

Settled settle_series(const FitStart& start, Settled named, FitObserver& observer) {
    observer.match_heard(named.covariance);
    WithHeard best = take_on(start, named.unknowns, named, observer);
    if (best.settled.status == FitStatus::stopped)
        return best.settled;
    if (!best.is_whole && observer.has_heard()) {
        const FitVector from = match_from_before(start, observer);
        WithHeard other = take_on(start, from, named, observer);
        if (other.settled.status == FitStatus::stopped)
            return other.settled;
        if (best.series.rows.empty() ||
            (!other.series.rows.empty() && other.score() > best.score()))
            best = std::move(other);
    }
    observer.series() = std::move(best.series);
    return observer.series().rows.empty() ? named : best.settled;
}

} // namespace platewright::plate
