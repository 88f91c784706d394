#pragma once
/// Lowest free vibrations of an assembled shell.

#include "plate/shell/frontal_cholesky.hpp"

namespace platewright::plate {

/// Assembled shell: stiffness and mass on one graph.
struct Assembled {
    BlockMatrix stiffness; // N/m and the like, SI
    NodeMass mass;         // kg
};

/// Eigenpairs above the six rigid ones, ascending.
struct EigenModes {
    Eigen::VectorXd lambda; // (rad/s)^2
    Eigen::MatrixXd shapes; // a column a mode, mass-normalised (shape^T M shape = 1)
    bool settled = false;   // every eigenvalue changed by less than 1e-6 of itself at the last step
};

/// Solves K x = lambda M x for the lowest `count` modes above rigid motion, by block Lanczos on the
/// inverse (G. H. Golub and R. Underwood, 1977) in the inner product of M with full
/// reorthogonalisation; rigid motions are exact and kept out.
/// In: factor of K + shift M; rigid: six columns, M-orthonormal; start: a guess at the shapes (any
/// number of columns >= 1, not all rigid); good guesses save steps.
/// Stops when no eigenvalue changes by more than 1e-6 of itself (its error is then far smaller:
/// convergence doubles the digits a step), or after 14 block steps.
/// Cost: about 15 ms for 850 nodes, ten modes. Threads: pure.
EigenModes solve_modes(const NodeGraph& graph, const Assembled& shell,
                       const FrontalCholesky& factor, double shift, const Eigen::MatrixXd& rigid,
                       const Eigen::MatrixXd& start, int count);

} // namespace platewright::plate
