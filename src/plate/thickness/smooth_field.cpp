#include "plate/thickness/smooth_field.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

// How freely the level itself may move, in parts of the surface's own deviation.
constexpr double k_level_freedom = 2.0;

} // namespace

double matern_5_2(Point p, Point q, double reach_mm) {
    const double r = std::sqrt(5.0) * std::hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm) / reach_mm;
    return (1.0 + r + r * r / 3.0) * std::exp(-r);
}

double prior_covariance(const FieldPrior& prior, Point p, Point q) {
    return prior.sd * prior.sd *
           (matern_5_2(p, q, prior.reach_mm) + k_level_freedom * k_level_freedom);
}

SmoothField::SmoothField(std::span<const FieldReading> readings, const FieldPrior& prior)
    : prior_(prior) {
    if (readings.empty())
        throw std::invalid_argument("SmoothField: needs a reading");
    if (!(prior.sd > 0.0) || !(prior.reach_mm > 0.0) || !(prior.noise_sd > 0.0))
        throw std::invalid_argument("SmoothField: deviations and reach must be positive");
    const auto n = static_cast<Eigen::Index>(readings.size());
    Eigen::MatrixXd covariance(n, n);
    weights_.resize(n);
    for (const auto& reading : readings)
        places_.push_back(reading.at);
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto a = static_cast<std::size_t>(i);
        for (Eigen::Index j = 0; j <= i; ++j)
            covariance(i, j) =
                prior_covariance(prior_, places_[a], places_[static_cast<std::size_t>(j)]);
        covariance(i, i) += prior.noise_sd * prior.noise_sd;
        weights_[i] = readings[a].value - prior.mean;
    }
    const Eigen::LLT<Eigen::MatrixXd> factor(covariance.selfadjointView<Eigen::Lower>());
    lower_ = factor.matrixL();
    factor.solveInPlace(weights_);
}

Eigen::VectorXd SmoothField::whitened(Point p) const {
    Eigen::VectorXd k(static_cast<Eigen::Index>(places_.size()));
    for (Eigen::Index i = 0; i < k.size(); ++i)
        k[i] = prior_covariance(prior_, p, places_[static_cast<std::size_t>(i)]);
    lower_.triangularView<Eigen::Lower>().solveInPlace(k);
    return k;
}

double SmoothField::value(Point p) const {
    double sum = prior_.mean;
    for (Eigen::Index i = 0; i < weights_.size(); ++i)
        sum += weights_[i] * prior_covariance(prior_, p, places_[static_cast<std::size_t>(i)]);
    return sum;
}

Eigen::MatrixXd SmoothField::covariance(std::span<const Point> places) const {
    const auto n = static_cast<Eigen::Index>(places.size());
    Eigen::MatrixXd known(lower_.rows(), n), between(n, n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Point p = places[static_cast<std::size_t>(i)];
        known.col(i) = whitened(p);
        for (Eigen::Index j = 0; j <= i; ++j)
            between(i, j) = between(j, i) =
                prior_covariance(prior_, p, places[static_cast<std::size_t>(j)]);
    }
    between.noalias() -= known.transpose() * known;
    return between;
}

double SmoothField::sd(Point p) const {
    return std::sqrt(std::max(0.0, prior_covariance(prior_, p, p) - whitened(p).squaredNorm()));
}

} // namespace platewright::plate
