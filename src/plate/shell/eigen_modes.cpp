#include "plate/shell/eigen_modes.hpp"

#include <Eigen/Eigenvalues>

#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr int k_most_steps = 14;
constexpr double k_still = 1e-6; // change of an eigenvalue; the error left is its square or so

// The Krylov basis grown block by block, M-orthonormal, and the inverse projected onto it.
class Basis {
public:
    Basis(const NodeGraph& graph, const NodeMass& mass, const Eigen::MatrixXd& rigid)
        : graph_(graph), mass_(mass), rigid_(rigid), mass_rigid_(multiply(graph, mass, rigid)) {}

    // Orthonormalises a block against all before it and appends what is left of it.
    void append(Eigen::MatrixXd block) {
        for (int pass = 0; pass < 2; ++pass) { // twice is enough (Kahan, Parlett)
            block -= rigid_ * (mass_rigid_.transpose() * block);
            if (vectors_.cols() > 0)
                block -= vectors_ * (mass_vectors_.transpose() * block);
            block = orthonormal(block);
        }
        const auto before = vectors_.cols();
        vectors_.conservativeResize(block.rows(), before + block.cols());
        vectors_.rightCols(block.cols()) = block;
        mass_vectors_.conservativeResize(block.rows(), before + block.cols());
        mass_vectors_.rightCols(block.cols()) = multiply(graph_, mass_, block);
        last_ = block.cols();
    }

    auto newest() const { return vectors_.rightCols(last_); }
    auto newest_by_mass() const { return mass_vectors_.rightCols(last_); }
    const Eigen::MatrixXd& vectors() const { return vectors_; }
    const Eigen::MatrixXd& by_mass() const { return mass_vectors_; }

private:
    // Columns of the block made M-orthonormal; directions lost in rounding are dropped.
    Eigen::MatrixXd orthonormal(const Eigen::MatrixXd& block) const {
        const Eigen::MatrixXd gram = block.transpose() * multiply(graph_, mass_, block);
        const Eigen::VectorXd scale = gram.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> split(scale.asDiagonal() * gram *
                                                                   scale.asDiagonal());
        const auto& values = split.eigenvalues();
        const double least = 1e-11 * values[values.size() - 1];
        Eigen::Index kept = 0;
        while (kept < values.size() && values[values.size() - 1 - kept] > least)
            ++kept;
        return block * (scale.asDiagonal() * split.eigenvectors().rightCols(kept) *
                        values.tail(kept).cwiseSqrt().cwiseInverse().asDiagonal());
    }

    const NodeGraph& graph_;
    const NodeMass& mass_;
    const Eigen::MatrixXd& rigid_;
    Eigen::MatrixXd mass_rigid_, vectors_, mass_vectors_;
    Eigen::Index last_ = 0;
};

} // namespace

EigenModes solve_modes(const NodeGraph& graph, const Assembled& shell,
                       const FrontalCholesky& factor, double shift, const Eigen::MatrixXd& rigid,
                       const Eigen::MatrixXd& start, int count) {
    if (count < 1 || start.cols() < 1)
        throw std::invalid_argument("solve_modes: needs a mode to find and a start");
    Basis basis(graph, shell.mass, rigid);
    Eigen::MatrixXd block = multiply(graph, shell.mass, start);
    factor.solve(block);
    basis.append(std::move(block));
    Eigen::MatrixXd projected;
    Eigen::VectorXd before;
    Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> ritz;
    double change = 1.0;
    for (int step = 0; step < k_most_steps; ++step) {
        Eigen::MatrixXd applied = basis.newest_by_mass();
        factor.solve(applied);
        const Eigen::MatrixXd column = basis.by_mass().transpose() * applied;
        const auto size = basis.vectors().cols();
        const auto old = projected.rows();
        projected.conservativeResize(size, size);
        projected.rightCols(size - old) = column;
        projected.bottomRows(size - old) = column.transpose();
        ritz.compute(0.5 * (projected + projected.transpose()));
        if (size >= count + 2) {
            const Eigen::VectorXd now = ritz.eigenvalues().tail(count);
            if (before.size() == count)
                change = ((now - before).cwiseQuotient(now)).cwiseAbs().maxCoeff();
            before = now;
            if (change < k_still)
                break;
        }
        if (step + 1 < k_most_steps)
            basis.append(std::move(applied));
    }
    EigenModes modes;
    modes.settled = change < k_still;
    modes.lambda = ritz.eigenvalues().tail(count).reverse().cwiseInverse().array() - shift;
    const auto used = projected.rows();
    modes.shapes =
        basis.vectors().leftCols(used) * ritz.eigenvectors().rightCols(count).rowwise().reverse();
    return modes;
}

} // namespace platewright::plate
