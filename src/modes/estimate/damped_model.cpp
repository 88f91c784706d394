#include "modes/estimate/damped_model.hpp"

#include "modes/estimate/gram.hpp"
#include "modes/estimate/projections.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

/// Solves A x = b for a symmetric positive matrix after scaling its diagonal to one.
class ScaledSolver {
public:
    explicit ScaledSolver(const MatrixXd& matrix) {
        scale_ = matrix.diagonal().cwiseMax(1e-300).cwiseSqrt().cwiseInverse();
        MatrixXd scaled = scale_.asDiagonal() * matrix * scale_.asDiagonal();
        // Two poles that fell together would make it singular: this keeps the answer finite.
        scaled.diagonal().array() += 1e-13;
        factor_.compute(scaled);
    }
    VectorXd solve(const VectorXd& right) const {
        return scale_.asDiagonal() * factor_.solve(scale_.asDiagonal() * right).eval();
    }
    MatrixXd inverse() const {
        const Index n = scale_.size();
        return scale_.asDiagonal() * factor_.solve(MatrixXd::Identity(n, n)).eval() *
               scale_.asDiagonal();
    }

private:
    VectorXd scale_;
    Eigen::LDLT<MatrixXd> factor_;
};

double energy(const Stretches& data) {
    double sum = 0.0;
    for (double y : data.ring)
        sum += y * y;
    for (double y : data.before)
        sum += y * y;
    return sum;
}

/// A set of poles with the amplitudes that fit best, and what a step needs.
struct State {
    std::vector<Component> components;
    Projections sums;
    Gram gram;
    double residual_energy;

    State(const Stretches& data, std::vector<Component> poles, double data_energy)
        : components(std::move(poles)), sums(project_all(data, components)), gram(data, components),
          residual_energy(data_energy) {
        const auto columns = amplitude_columns(components);
        if (columns.empty())
            return;
        const VectorXd products = data_products(sums, columns);
        const VectorXd amplitudes = ScaledSolver(gram.matrix(columns)).solve(products);
        residual_energy = std::max(0.0, data_energy - amplitudes.dot(products));
        for (std::size_t i = 0; i < components.size(); ++i) {
            const Index at = 2 * static_cast<Index>(i);
            components[i].amplitude = {amplitudes(at), amplitudes(at + 1)};
        }
    }
};

/// The normal equations of all parameters at a state.
struct Normal {
    std::vector<long> first_parameter;
    MatrixXd matrix;
    VectorXd gradient; // Jᵀ (data - model); zero for amplitudes

    explicit Normal(const State& state) {
        const auto columns = all_columns(state.components, first_parameter);
        matrix = state.gram.matrix(columns);
        VectorXd amplitudes = VectorXd::Zero(matrix.rows());
        for (std::size_t i = 0; i < state.components.size(); ++i) {
            amplitudes(first_parameter[i]) = state.components[i].amplitude.real();
            amplitudes(first_parameter[i] + 1) = state.components[i].amplitude.imag();
        }
        gradient = data_products(state.sums, columns) - matrix * amplitudes;
    }
};

bool is_amplitude(const Normal& normal, const std::vector<Component>& components, Index parameter) {
    for (std::size_t i = 0; i < components.size(); ++i) {
        if (parameter == normal.first_parameter[i] || parameter == normal.first_parameter[i] + 1) {
            return true;
        }
    }
    return false;
}

double highest_rate(double ring_length) { return 1.0 / ring_length; }

/// A rate at its bound that wants beyond it is held there: its equation is taken out.
void hold_at_bounds(const State& state, Normal& normal, double ring_length) {
    for (std::size_t i = 0; i < state.components.size(); ++i) {
        const Component& c = state.components[i];
        const Index at = normal.first_parameter[i] + 2;
        if (c.steady || c.pole.real() < highest_rate(ring_length) || normal.gradient(at) <= 0.0) {
            continue;
        }
        const double diagonal = normal.matrix(at, at);
        normal.matrix.row(at).setZero();
        normal.matrix.col(at).setZero();
        normal.matrix(at, at) = diagonal;
        normal.gradient(at) = 0.0;
    }
}

/// Poles after a step, kept where the model means something: no growth to speak of over the
/// ring, and an angle strictly between 0 and π.
std::vector<Component> moved(const State& state, const Normal& normal, const VectorXd& step,
                             double ring_length) {
    std::vector<Component> next = state.components;
    for (std::size_t i = 0; i < next.size(); ++i) {
        const Index at = normal.first_parameter[i] + 2;
        double rate = 0.0;
        double angle = next[i].pole.imag();
        if (next[i].steady) {
            angle += step(at);
        } else {
            rate = std::clamp(next[i].pole.real() + step(at), -0.5, highest_rate(ring_length));
            angle += step(at + 1);
        }
        next[i].pole = {rate, std::clamp(angle, 1e-6, 3.141592)};
    }
    return next;
}

} // namespace

DampedFit fit_damped(const Stretches& data, std::vector<Component> start,
                     const DampedFitParams& params) {
    if (data.ring.size() < 8)
        throw std::invalid_argument("fit_damped needs 8 samples or more");
    const double data_energy = energy(data);
    const auto length = static_cast<double>(data.ring.size());
    const auto samples = static_cast<double>(data.ring.size() + data.before.size());
    State state(data, std::move(start), data_energy);
    Normal normal(state);
    hold_at_bounds(state, normal, length);
    DampedFit fit;
    double damping = 1e-3;
    for (int tries = 0; tries < params.max_steps && !state.components.empty(); ++tries) {
        MatrixXd damped = normal.matrix;
        for (Index k = 0; k < damped.rows(); ++k) {
            if (!is_amplitude(normal, state.components, k))
                damped(k, k) *= 1.0 + damping;
        }
        const VectorXd step = ScaledSolver(damped).solve(normal.gradient);
        const double promise = step.dot(normal.gradient);
        if (promise < params.enough * state.residual_energy / samples) {
            fit.converged = true;
            break;
        }
        State next(data, moved(state, normal, step, length), data_energy);
        if (next.residual_energy < state.residual_energy) {
            state = std::move(next);
            normal = Normal(state);
            hold_at_bounds(state, normal, length);
            damping = std::max(1e-9, damping * 0.1);
        } else {
            damping = std::max(1e-3, damping * 10.0);
            if (damping > 1e9)
                break;
        }
    }
    fit.components = state.components;
    fit.first_parameter = normal.first_parameter;
    if (!fit.components.empty())
        fit.inverse = ScaledSolver(normal.matrix).inverse();
    fit.residual_energy = state.residual_energy;
    if (fit.components.empty())
        fit.converged = true;
    return fit;
}

} // namespace platewright::modes
