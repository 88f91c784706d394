#pragma once
/// Small least squares problems with bounds.

#include <Eigen/Core>

namespace platewright::plate {

/// Minimises x^T H x / 2 - b^T x for lower <= x <= upper by cyclic coordinate descent (converges
/// for positive definite H: D. P. Bertsekas, Nonlinear Programming, section 2.7, from memory).
/// In: H symmetric with positive diagonal, sizes alike. Stops at changes below 1e-7 of the bounds'
/// span or after 4000 sweeps. Cost: some ms for 100 unknowns.
Eigen::VectorXd minimise_between(const Eigen::MatrixXd& h, const Eigen::VectorXd& b,
                                 const Eigen::VectorXd& lower, const Eigen::VectorXd& upper,
                                 Eigen::VectorXd start);

} // namespace platewright::plate
