#include "plate/plan/taken_wood.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace platewright::plate {
namespace {

// Sizes of the departure from the plan, each 1.6 times the one before (mm). Smaller ones than a
// reading errs would fit as well, and would be believed where the plan was not followed.
constexpr std::array k_departures_mm{0.05, 0.08, 0.13, 0.2, 0.32, 0.5};
// Before the readings: the plan about carried out, and at most a few tenths all over.
constexpr double k_usual_times = 1.0, k_times_sd = 1.0, k_level_sd_mm = 0.3;

using Index = Eigen::Index;

/// All that does not hang on the size of the departure.
struct Problem {
    Eigen::MatrixXd known; // covariance of all readings but for the departure, before ones first
    Eigen::VectorXd off;   // readings less what is expected of them
    Eigen::VectorXd planned_after, planned_here;            // mm
    Eigen::MatrixXd alike_after, alike_between, alike_here; // correlations of the departure
};

Eigen::VectorXd planned_at(const TakenPrior& taken, std::span<const Point> places) {
    Eigen::VectorXd mm = Eigen::VectorXd::Zero(std::ssize(places));
    if (taken.planned_mm)
        for (Index i = 0; i < mm.size(); ++i)
            mm[i] = taken.planned_mm(places[static_cast<std::size_t>(i)]);
    return mm;
}

Eigen::MatrixXd alike(std::span<const Point> a, std::span<const Point> b, double reach_mm) {
    Eigen::MatrixXd r(std::ssize(a), std::ssize(b));
    for (Index j = 0; j < r.cols(); ++j)
        for (Index i = 0; i < r.rows(); ++i)
            r(i, j) = matern_5_2(a[static_cast<std::size_t>(i)], b[static_cast<std::size_t>(j)],
                                 reach_mm);
    return r;
}

/// What two places have in common by the plan and the level.
Eigen::MatrixXd in_common(const Eigen::VectorXd& a, const Eigen::VectorXd& b) {
    return (k_times_sd * k_times_sd * a * b.transpose()).array() + k_level_sd_mm * k_level_sd_mm;
}

Problem problem_of(std::span<const FieldReading> before, std::span<const FieldReading> after,
                   const FieldPrior& plate, const TakenPrior& taken,
                   std::span<const Point> places) {
    std::vector<Point> read, read_after;
    Eigen::VectorXd value(std::ssize(before) + std::ssize(after));
    for (const auto& readings : {before, after})
        for (const FieldReading& reading : readings) {
            value[std::ssize(read)] = reading.value;
            read.push_back(reading.at);
        }
    for (const FieldReading& reading : after)
        read_after.push_back(reading.at);
    Problem p;
    p.planned_after = planned_at(taken, read_after);
    p.planned_here = planned_at(taken, places);
    p.alike_after = alike(read_after, read_after, taken.reach_mm);
    p.alike_between = alike(read_after, places, taken.reach_mm);
    p.alike_here = alike(places, places, taken.reach_mm);
    p.known.resize(value.size(), value.size());
    for (Index j = 0; j < value.size(); ++j)
        for (Index i = 0; i < value.size(); ++i)
            p.known(i, j) = prior_covariance(plate, read[static_cast<std::size_t>(i)],
                                             read[static_cast<std::size_t>(j)]);
    p.known.diagonal().array() += plate.noise_sd * plate.noise_sd;
    const Index n = std::ssize(after);
    p.known.bottomRightCorner(n, n) += in_common(p.planned_after, p.planned_after);
    p.off = value.array() - plate.mean;
    p.off.tail(n) += k_usual_times * p.planned_after;
    return p;
}

/// The answer for one size of the departure.
class Kriged {
public:
    Kriged(const Problem& problem, double departure_mm)
        : problem_(problem), variance_(departure_mm * departure_mm) {
        Eigen::MatrixXd covariance = problem.known;
        const Index n = problem.planned_after.size();
        covariance.bottomRightCorner(n, n) += variance_ * problem.alike_after;
        factor_.compute(covariance);
        weights_ = factor_.solve(problem.off);
        const Eigen::MatrixXd lower = factor_.matrixL();
        log_likelihood_ = -0.5 * problem.off.dot(weights_) - lower.diagonal().array().log().sum();
    }

    double log_likelihood() const { return log_likelihood_; }

    TakenWood taken() const {
        const Index n = problem_.planned_after.size(), m = problem_.planned_here.size();
        // a column a place, and last how often the plan was carried out
        Eigen::MatrixXd cross = Eigen::MatrixXd::Zero(weights_.size(), m + 1);
        cross.bottomLeftCorner(n, m) = -in_common(problem_.planned_after, problem_.planned_here) -
                                       variance_ * problem_.alike_between;
        cross.col(m).tail(n) = -k_times_sd * k_times_sd * problem_.planned_after;
        const Eigen::VectorXd gained = cross.transpose() * weights_;
        factor_.matrixL().solveInPlace(cross);
        TakenWood out;
        out.mm = k_usual_times * problem_.planned_here + gained.head(m);
        out.covariance = in_common(problem_.planned_here, problem_.planned_here) +
                         variance_ * problem_.alike_here;
        out.covariance.noalias() -= cross.leftCols(m).transpose() * cross.leftCols(m);
        out.times = k_usual_times + gained[m];
        out.times_sd =
            std::sqrt(std::max(0.0, k_times_sd * k_times_sd - cross.col(m).squaredNorm()));
        return out;
    }

private:
    const Problem& problem_;
    double variance_; // of the departure
    Eigen::LLT<Eigen::MatrixXd> factor_;
    Eigen::VectorXd weights_;
    double log_likelihood_ = 0.0;
};

} // namespace

TakenWood taken_wood(std::span<const FieldReading> before, std::span<const FieldReading> after,
                     const FieldPrior& plate, const TakenPrior& taken,
                     std::span<const Point> places) {
    if (before.empty() || after.empty() || places.empty())
        throw std::invalid_argument("taken_wood: needs readings before and after, and places");
    const Problem problem = problem_of(before, after, plate, taken, places);
    std::vector<Kriged> all;
    double best = -1e300;
    for (const double departure_mm : k_departures_mm) {
        all.emplace_back(problem, departure_mm);
        best = std::max(best, all.back().log_likelihood());
    }
    std::vector<double> shares;
    double whole = 0.0;
    for (const Kriged& one : all) {
        shares.push_back(std::exp(one.log_likelihood() - best));
        whole += shares.back();
    }
    // A mixture's mean, and its covariance: the mean one and that of the means.
    constexpr double k_no_share = 1e-3;
    const auto m = static_cast<Index>(places.size());
    TakenWood mixed{Eigen::VectorXd::Zero(m), Eigen::MatrixXd::Zero(m, m), 0.0, 0.0};
    double square = 0.0;
    for (std::size_t k = 0; k < all.size(); ++k) {
        const double share = shares[k] / whole;
        if (share < k_no_share)
            continue;
        const TakenWood one = all[k].taken();
        mixed.mm += share * one.mm;
        mixed.covariance += share * (one.covariance + one.mm * one.mm.transpose());
        mixed.times += share * one.times;
        square += share * (one.times_sd * one.times_sd + one.times * one.times);
    }
    mixed.covariance -= mixed.mm * mixed.mm.transpose();
    mixed.times_sd = std::sqrt(std::max(0.0, square - mixed.times * mixed.times));
    return mixed;
}

} // namespace platewright::plate
