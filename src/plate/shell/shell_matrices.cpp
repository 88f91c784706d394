#include "plate/shell/shell_matrices.hpp"

#include <Eigen/OrderingMethods>

#include <algorithm>
#include <vector>

namespace platewright::plate {
namespace {

using Index = Eigen::Index;

SparseMatrix entries(Index size, const std::vector<Eigen::Triplet<double>>& all) {
    SparseMatrix matrix(size, size);
    matrix.setFromTriplets(all.begin(), all.end());
    return matrix;
}

/// Where the entry of two nodes that share a facet stands among those of the second one's column.
Index place_in_column(const SparseMatrix& node_mass, int a, int b) {
    const int* const rows = node_mass.innerIndexPtr();
    const int *const first = rows + node_mass.outerIndexPtr()[b],
                     *const last = rows + node_mass.outerIndexPtr()[b + 1];
    return std::lower_bound(first, last, a) - first;
}

} // namespace

Eigen::MatrixXd by_mass(const SparseMatrix& node_mass, const Eigen::MatrixXd& x) {
    Eigen::MatrixXd y = Eigen::MatrixXd::Zero(x.rows(), x.cols());
    const auto nodes = node_mass.cols();
    for (Index k = 0; k < x.cols(); ++k) {
        const Eigen::Map<const Eigen::Matrix<double, 6, Eigen::Dynamic>> from(x.col(k).data(), 6,
                                                                              nodes);
        Eigen::Map<Eigen::Matrix<double, 6, Eigen::Dynamic>> to(y.col(k).data(), 6, nodes);
        to.topRows<3>() = from.topRows<3>() * node_mass;
    }
    return y;
}

ShellPattern::ShellPattern(int nodes, std::span<const Triangle> triangles) {
    std::vector<Eigen::Triplet<double>> masses, stiffnesses;
    for (const Triangle& triangle : triangles)
        for (const int a : triangle)
            for (const int b : triangle)
                masses.emplace_back(a, b, 0.0);
    zero_.node_mass = entries(nodes, masses);
    for (int b = 0; b < nodes; ++b)
        for (SparseMatrix::InnerIterator entry(zero_.node_mass, b); entry; ++entry)
            for (int r = 0; r < 6; ++r)
                for (int c = 0; c < 6; ++c)
                    stiffnesses.emplace_back(6 * static_cast<int>(entry.row()) + r, 6 * b + c, 0.0);
    zero_.stiffness = entries(6 * Index{nodes}, stiffnesses);
    Eigen::AMDOrdering<int>()(zero_.stiffness.selfadjointView<Eigen::Lower>(), order_);
    order_ = order_.inverse().eval();
}

void ShellPattern::add(Assembled& to, int a, int b, const Eigen::Matrix<double, 6, 6>& stiffness,
                       double mass_kg) const {
    const Index place = place_in_column(to.node_mass, a, b);
    to.node_mass.valuePtr()[to.node_mass.outerIndexPtr()[b] + place] += mass_kg;
    for (int c = 0; c < 6; ++c)
        Eigen::Map<Eigen::Matrix<double, 6, 1>>(
            to.stiffness.valuePtr() + to.stiffness.outerIndexPtr()[6 * b + c] + 6 * place) +=
            stiffness.col(c);
}

} // namespace platewright::plate
