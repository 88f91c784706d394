#include "plate/fit/bounded_least.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {

Eigen::VectorXd minimise_between(const Eigen::MatrixXd& h, const Eigen::VectorXd& b,
                                 const Eigen::VectorXd& lower, const Eigen::VectorXd& upper,
                                 Eigen::VectorXd start) {
    constexpr int k_sweeps = 4000;
    constexpr double k_settled = 1e-7;
    const auto n = b.size();
    if (h.rows() != n || h.cols() != n || lower.size() != n || upper.size() != n ||
        start.size() != n || (n > 0 && !(h.diagonal().minCoeff() > 0.0)))
        throw std::invalid_argument("minimise_between: sizes must agree, diagonal be positive");
    Eigen::VectorXd x = start.cwiseMax(lower).cwiseMin(upper);
    Eigen::VectorXd slope = h * x - b;
    const double span = std::max(1e-300, (upper - lower).cwiseAbs().maxCoeff());
    for (int sweep = 0; sweep < k_sweeps; ++sweep) {
        double moved = 0.0;
        for (Eigen::Index i = 0; i < n; ++i) {
            const double to =
                std::clamp(x[i] - slope[i] / h(i, i), lower[i], std::max(lower[i], upper[i]));
            const double step = to - x[i];
            if (step == 0.0)
                continue;
            slope += step * h.col(i);
            x[i] = to;
            moved = std::max(moved, std::abs(step));
        }
        if (moved < k_settled * span)
            break;
    }
    return x;
}

} // namespace platewright::plate
