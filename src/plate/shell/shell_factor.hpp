#pragma once
/// Sparse Cholesky factor of an assembled shell.

#include "plate/shell/shell_matrices.hpp"

#include <Eigen/SparseCholesky>

namespace platewright::plate {

/// K + shift * M, ready to be solved with. Threads: const is pure.
class ShellFactor {
public:
    /// Throws std::domain_error if the matrix is not positive definite.
    ShellFactor(const ShellPattern& pattern, const Assembled& shell, double shift);

    Eigen::MatrixXd solve(const Eigen::MatrixXd& columns) const;

private:
    const ShellPattern::Order* order_;
    Eigen::SimplicialLDLT<SparseMatrix, Eigen::Lower, Eigen::NaturalOrdering<int>> factor_;
};

} // namespace platewright::plate
