#include "plate/plan/graduation.hpp"

#include <Eigen/Cholesky>

#include <stdexcept>

namespace platewright::plate {

Eigen::VectorXd hollows_mm(const PlateModel& model, const Eigen::VectorXd& graduation_mm,
                           const Eigen::VectorXd& now_mm) {
    if (graduation_mm.size() != now_mm.size() ||
        now_mm.size() != static_cast<Eigen::Index>(model.nodes()))
        throw std::invalid_argument("hollows_mm: thickness must be given at every node");
    const Eigen::VectorXd taken = graduation_mm - now_mm;
    const Eigen::VectorXd& area = model.node_area_mm2();
    return taken.array() - area.dot(taken) / area.sum();
}

Eigen::VectorXd as_strokes(const RemovalBasis& basis, const Eigen::VectorXd& depth_mm) {
    // Strokes that hardly reach a node are not to be blown up to reach it.
    constexpr double k_hold = 0.05;
    const Eigen::MatrixXd& at = basis.at_nodes();
    Eigen::MatrixXd normal = at.transpose() * at;
    normal.diagonal().array() += k_hold;
    return normal.ldlt().solve(at.transpose() * depth_mm);
}

} // namespace platewright::plate
