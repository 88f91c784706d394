#pragma once
/// A smooth surface through scattered readings, with its uncertainty.

#include "plate/shape/point.hpp"

#include <Eigen/Core>

#include <span>
#include <vector>

namespace platewright::plate {

struct FieldReading {
    Point at;
    double value = 0.0;
};

/// What is held of the surface before any reading.
struct FieldPrior {
    double mean = 0.0;
    double sd = 1.0;        // how far the surface strays from the mean
    double reach_mm = 60.0; // readings this far apart still tell of each other
    double noise_sd = 0.05; // of one reading
};

/// Matern 5/2 correlation of two places.
double matern_5_2(Point p, Point q, double reach_mm);

/// Covariance of the surface at two places before any reading, its level's included.
double prior_covariance(const FieldPrior& prior, Point p, Point q);

/// Kriging (Gaussian process) with the twice differentiable Matern 5/2 covariance:
/// C. E. Rasmussen, C. K. I. Williams, Gaussian Processes for Machine Learning, 2006, eqs. 2.25,
/// 2.26 and 4.17. The mean level is estimated from the readings with a wide prior of its own.
/// Cost: n^3/3 once, n a value, n^2 a deviation; some hundred readings are nothing.
/// Throws std::invalid_argument without readings or with a prior that is not positive.
class SmoothField {
public:
    SmoothField(std::span<const FieldReading> readings, const FieldPrior& prior);

    double value(Point p) const;
    double sd(Point p) const; // of the surface, reading noise not included
    /// Covariance of the surface between all of these places.
    Eigen::MatrixXd covariance(std::span<const Point> places) const;
    const FieldPrior& prior() const { return prior_; }

private:
    Eigen::VectorXd whitened(Point p) const; // L^-1 k(p)

    FieldPrior prior_;
    std::vector<Point> places_;
    Eigen::MatrixXd lower_; // Cholesky factor of the readings' covariance
    Eigen::VectorXd weights_;
};

} // namespace platewright::plate
