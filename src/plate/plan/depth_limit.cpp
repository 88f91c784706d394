#include "plate/plan/depth_limit.hpp"

#include "plate/fit/bounded_least.hpp"

#include <algorithm>

namespace platewright::plate {
namespace {

constexpr double k_hair = 1e-9; // of rounding

} // namespace

// What of each stroke may stay where together they go too deep: at a place that has no room for
// them those give way that reach it, by as much as they reach it.
Eigen::VectorXd DepthLimit::allowed(const Eigen::VectorXd& depths_mm) const {
    const Eigen::VectorXd removal = depth_ * depths_mm;
    Eigen::VectorXd share = Eigen::VectorXd::Ones(depths_mm.size());
    for (Eigen::Index i = 0; i < removal.size(); ++i) {
        if (removal[i] <= room_mm_[i] * (1.0 + k_hair) + k_hair)
            continue;
        const Eigen::VectorXd reach = depth_.row(i).transpose();
        const Eigen::VectorXd less =
            (removal[i] - room_mm_[i]) * reach / reach.cwiseAbs2().dot(depths_mm);
        share = share.cwiseMin((1.0 - less.array()).cwiseMax(0.0).matrix());
    }
    return share;
}

Eigen::VectorXd DepthLimit::minimise(const Eigen::MatrixXd& h, const Eigen::VectorXd& b,
                                     const Eigen::VectorXd& start) const {
    constexpr int k_drawings_in = 8, k_most_cuts = 60;
    const Eigen::VectorXd none = Eigen::VectorXd::Zero(start.size());
    Eigen::VectorXd upper = Eigen::VectorXd::Constant(start.size(), stroke_mm_);
    Eigen::VectorXd x = minimise_between(h, b, none, upper, start.cwiseMin(stroke_mm_));
    for (int k = 0; k < k_drawings_in; ++k) {
        const Eigen::VectorXd share = allowed(x);
        if (share.minCoeff() >= 1.0)
            return x;
        upper = (share.array() < 1.0).select(upper.cwiseMin(share.cwiseProduct(x)), upper).eval();
        x = minimise_between(h, b, none, upper, x.cwiseMin(upper));
    }
    for (int k = 0; k < k_most_cuts; ++k)
        x = allowed(x).cwiseProduct(x).eval();
    // whatever is left over the limit: everything in proportion
    const Eigen::VectorXd removal = depth_ * x;
    double scale = 1.0;
    for (Eigen::Index i = 0; i < removal.size(); ++i)
        if (removal[i] > room_mm_[i])
            scale = std::min(scale, room_mm_[i] / removal[i]);
    return scale * x;
}

} // namespace platewright::plate
