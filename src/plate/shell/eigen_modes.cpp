#include "plate/shell/eigen_modes.hpp"

#include <Spectra/SymGEigsShiftSolver.h>
#include <algorithm>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr double k_settled = 1e-6; // residual beside an eigenvalue, whose own error is its square
constexpr int k_most_restarts = 50;

using Vector = Eigen::Map<Eigen::VectorXd>;
using ConstVector = Eigen::Map<const Eigen::VectorXd>;

/// M, as Spectra asks for it.
struct Mass {
    using Scalar = double;
    const SparseMatrix& node_mass;

    Eigen::Index rows() const { return 6 * node_mass.rows(); }
    Eigen::Index cols() const { return rows(); }
    void perform_op(const double* x, double* y) const {
        Vector(y, rows()) = by_mass(node_mass, ConstVector(x, rows()));
    }
};

/// (K + shift M)^-1 with rigid motions taken out.
struct Inverse {
    using Scalar = double;
    const ShellFactor& factor;
    const Eigen::MatrixXd& rigid;
    Eigen::MatrixXd rigid_by_mass;

    Eigen::Index rows() const { return rigid.rows(); }
    Eigen::Index cols() const { return rows(); }
    void set_shift(double) const {} // the factor has it
    Eigen::VectorXd of(const Eigen::VectorXd& x) const {
        const Eigen::VectorXd y = factor.solve(x);
        return y - rigid * (rigid_by_mass.transpose() * y);
    }
    void perform_op(const double* x, double* y) const {
        Vector(y, rows()) = of(ConstVector(x, rows()));
    }
};

} // namespace

EigenModes solve_modes(const Assembled& shell, const ShellFactor& factor, double shift,
                       const Eigen::MatrixXd& rigid, const Eigen::MatrixXd& start, int count) {
    if (count < 1 || start.cols() < 1)
        throw std::invalid_argument("solve_modes: needs a mode to find and a start");
    Mass mass{shell.node_mass};
    Inverse inverse{factor, rigid, by_mass(shell.node_mass, rigid)};
    // rotations have no mass to be measured by: a start must be one that loads could bring about
    const Eigen::VectorXd first = inverse.of(by_mass(shell.node_mass, start.rowwise().sum()));
    for (const int basis : {2 * count + 6, 4 * count + 20}) {
        Spectra::SymGEigsShiftSolver<Inverse, Mass, Spectra::GEigsMode::ShiftInvert> solver(
            inverse, mass, count, std::min(basis, static_cast<int>(rigid.rows())), -shift);
        solver.init(first.data());
        solver.compute(Spectra::SortRule::LargestMagn, k_most_restarts, k_settled,
                       Spectra::SortRule::SmallestAlge);
        if (solver.info() == Spectra::CompInfo::Successful)
            return {solver.eigenvalues(), solver.eigenvectors()};
    }
    throw std::domain_error("solve_modes: the modes do not settle");
}

} // namespace platewright::plate
