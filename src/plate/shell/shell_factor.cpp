#include "plate/shell/shell_factor.hpp"

#include <stdexcept>

namespace platewright::plate {

ShellFactor::ShellFactor(const ShellPattern& pattern, const Assembled& shell, double shift)
    : order_(&pattern.order()) {
    SparseMatrix shifted = shell.stiffness;
    for (int b = 0; b < shell.node_mass.outerSize(); ++b) {
        Eigen::Index place = 0;
        for (SparseMatrix::InnerIterator entry(shell.node_mass, b); entry; ++entry, ++place)
            for (int c = 0; c < 3; ++c)
                shifted.valuePtr()[shifted.outerIndexPtr()[6 * b + c] + 6 * place + c] +=
                    shift * entry.value();
    }
    SparseMatrix ordered(shifted.rows(), shifted.cols());
    ordered.selfadjointView<Eigen::Lower>() =
        shifted.selfadjointView<Eigen::Lower>().twistedBy(*order_);
    factor_.compute(ordered);
    if (factor_.info() != Eigen::Success || !(factor_.vectorD().minCoeff() > 0.0))
        throw std::domain_error("ShellFactor: the stiffness is not positive definite");
}

Eigen::MatrixXd ShellFactor::solve(const Eigen::MatrixXd& columns) const {
    return order_->inverse() * factor_.solve(*order_ * columns).eval();
}

} // namespace platewright::plate
