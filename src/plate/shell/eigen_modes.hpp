#pragma once
/// Lowest free vibrations of an assembled shell.

#include "plate/shell/shell_factor.hpp"

namespace platewright::plate {

/// Eigenpairs above the six rigid ones, ascending.
struct EigenModes {
    Eigen::VectorXd lambda; // (rad/s)^2
    Eigen::MatrixXd shapes; // a column a mode, mass-normalised (shape^T M shape = 1)
};

/// Solves K x = lambda M x for the lowest `count` modes above rigid motion, by Lanczos on the
/// shifted inverse with implicit restarts (Spectra; R. B. Lehoucq, D. C. Sorensen, SIAM J. Matrix
/// Anal. Appl. 17, 1996); rigid motions are exact and kept out.
/// In: factor of K + shift M; rigid: six columns, M-orthonormal; start: a guess at the shapes (any
/// number of columns >= 1, not all rigid).
/// Residuals are within 1e-6. Throws std::domain_error where they don't come to that.
/// Cost: some 20 ms for 650 nodes, ten modes. Threads: pure.
EigenModes solve_modes(const Assembled& shell, const ShellFactor& factor, double shift,
                       const Eigen::MatrixXd& rigid, const Eigen::MatrixXd& start, int count);

} // namespace platewright::plate
