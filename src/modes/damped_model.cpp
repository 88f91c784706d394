#include "modes/damped_model.hpp"

#include "modes/exponential_sums.hpp"

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

/// Σ y e^{s n} and Σ n y e^{s n} for every component.
struct Projections {
    std::vector<Complex> plain;
    std::vector<Complex> ramped;
};

constexpr long k_block = 32; // samples a block: table small, matrix product long

/// Two rows a pole: real and imaginary part of e^{s m}, m = 0 … k_block-1.
MatrixXd power_table(const std::vector<Complex>& poles) {
    MatrixXd table(2 * static_cast<Index>(poles.size()), k_block);
    for (std::size_t i = 0; i < poles.size(); ++i) {
        const Complex step = std::exp(poles[i]);
        Complex power{1.0, 0.0};
        for (long m = 0; m < k_block; ++m) {
            table(2 * static_cast<Index>(i), m) = power.real();
            table(2 * static_cast<Index>(i) + 1, m) = power.imag();
            power *= step;
        }
    }
    return table;
}

/// Samples folded into columns of k_block, the last one filled up with zeros.
MatrixXd folded(const std::vector<double>& samples) {
    const long count = static_cast<long>(samples.size());
    MatrixXd columns = MatrixXd::Zero(k_block, (count + k_block - 1) / k_block);
    std::copy(samples.begin(), samples.end(), columns.data());
    return columns;
}

/// Adds a stretch's projections. The folded samples meet the power table in one matrix product; a
/// block's place in the stretch is then one complex factor.
void project(const std::vector<double>& samples, long first, const std::vector<Complex>& poles,
             Projections& sums) {
    if (samples.empty() || poles.empty())
        return;
    const MatrixXd table = power_table(poles);
    const auto ramp = Eigen::RowVectorXd::LinSpaced(k_block, 0.0, static_cast<double>(k_block - 1));
    MatrixXd both(2 * table.rows(), k_block);
    both << table, table.array().rowwise() * ramp.array();
    const MatrixXd local = both * folded(samples);
    for (std::size_t i = 0; i < poles.size(); ++i) {
        const Index row = 2 * static_cast<Index>(i);
        const Index ramped_row = row + table.rows();
        const Complex stride = std::exp(poles[i] * static_cast<double>(k_block));
        Complex shift = std::exp(poles[i] * static_cast<double>(first));
        Complex plain;
        Complex ramped;
        for (Index b = 0; b < local.cols(); ++b) {
            const Complex part{local(row, b), local(row + 1, b)};
            const Complex slope{local(ramped_row, b), local(ramped_row + 1, b)};
            plain += shift * part;
            ramped += shift * (static_cast<double>(first + b * k_block) * part + slope);
            shift *= stride;
        }
        sums.plain[i] += plain;
        sums.ramped[i] += ramped;
    }
}

Projections project_all(const Stretches& data, const std::vector<Component>& components) {
    std::vector<Complex> poles;
    std::vector<Complex> steady_poles;
    for (const Component& c : components) {
        poles.push_back(c.pole);
        if (c.steady)
            steady_poles.push_back(c.pole);
    }
    Projections sums{std::vector<Complex>(poles.size()), std::vector<Complex>(poles.size())};
    project(data.ring, 0, poles, sums);
    if (data.before.empty() || steady_poles.empty())
        return sums;
    Projections lines{std::vector<Complex>(steady_poles.size()),
                      std::vector<Complex>(steady_poles.size())};
    project(data.before, data.before_first, steady_poles, lines);
    std::size_t line = 0;
    for (std::size_t i = 0; i < components.size(); ++i) {
        if (!components[i].steady)
            continue;
        sums.plain[i] += lines.plain[line];
        sums.ramped[i] += lines.ramped[line];
        ++line;
    }
    return sums;
}

/// A column of the Jacobian is Re(factor · n^degree · e^{s n}).
struct Column {
    std::size_t component;
    Complex factor;
    int degree;
};

std::vector<Column> amplitude_columns(const std::vector<Component>& components) {
    std::vector<Column> columns;
    for (std::size_t i = 0; i < components.size(); ++i) {
        columns.push_back({i, Complex{1.0, 0.0}, 0});
        columns.push_back({i, Complex{0.0, 1.0}, 0});
    }
    return columns;
}

std::vector<Column> all_columns(const std::vector<Component>& components,
                                std::vector<long>& first_parameter) {
    std::vector<Column> columns;
    first_parameter.clear();
    for (std::size_t i = 0; i < components.size(); ++i) {
        first_parameter.push_back(static_cast<long>(columns.size()));
        columns.push_back({i, Complex{1.0, 0.0}, 0});
        columns.push_back({i, Complex{0.0, 1.0}, 0});
        const Complex c = components[i].amplitude;
        if (!components[i].steady)
            columns.push_back({i, c, 1});
        columns.push_back({i, Complex{0.0, 1.0} * c, 1});
    }
    return columns;
}

/// Sums over products of two components, with the second one plain and conjugated.
struct PairSums {
    PowerSums plain;
    PowerSums conjugated;
};

Complex of_degree(const PowerSums& sums, int degree) {
    return degree == 0 ? sums.zeroth : degree == 1 ? sums.first : sums.second;
}

class Gram {
public:
    Gram(const Stretches& data, const std::vector<Component>& components)
        : count_(components.size()), pairs_(count_ * count_) {
        const long ring = static_cast<long>(data.ring.size());
        const long before = static_cast<long>(data.before.size());
        for (std::size_t i = 0; i < count_; ++i) {
            for (std::size_t j = i; j < count_; ++j) {
                const Complex sum = components[i].pole + components[j].pole;
                const Complex beat = components[i].pole + std::conj(components[j].pole);
                PairSums pair{exponential_sums(sum, ring), exponential_sums(beat, ring)};
                if (before > 0 && components[i].steady && components[j].steady) {
                    add(pair.plain, exponential_sums(sum, data.before_first, before));
                    add(pair.conjugated, exponential_sums(beat, data.before_first, before));
                }
                pairs_[i * count_ + j] = pair;
            }
        }
    }

    double product(const Column& u, const Column& v) const {
        if (u.component > v.component)
            return product(v, u);
        const PairSums& pair = pairs_[u.component * count_ + v.component];
        const int degree = u.degree + v.degree;
        return 0.5 * std::real(u.factor * v.factor * of_degree(pair.plain, degree) +
                               u.factor * std::conj(v.factor) * of_degree(pair.conjugated, degree));
    }

    MatrixXd matrix(const std::vector<Column>& columns) const {
        const Index size = static_cast<Index>(columns.size());
        MatrixXd gram(size, size);
        for (Index r = 0; r < size; ++r) {
            for (Index c = r; c < size; ++c) {
                gram(r, c) = product(columns[static_cast<std::size_t>(r)],
                                     columns[static_cast<std::size_t>(c)]);
                gram(c, r) = gram(r, c);
            }
        }
        return gram;
    }

private:
    static void add(PowerSums& to, const PowerSums& more) {
        to.zeroth += more.zeroth;
        to.first += more.first;
        to.second += more.second;
    }
    std::size_t count_;
    std::vector<PairSums> pairs_;
};

VectorXd data_products(const Projections& sums, const std::vector<Column>& columns) {
    VectorXd products(static_cast<Index>(columns.size()));
    for (std::size_t k = 0; k < columns.size(); ++k) {
        const Column& c = columns[k];
        const Complex sum = c.degree == 0 ? sums.plain[c.component] : sums.ramped[c.component];
        products(static_cast<Index>(k)) = std::real(c.factor * sum);
    }
    return products;
}

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

std::vector<double> ring_residual(const Stretches& data, const std::vector<Component>& components) {
    if (components.empty() || data.ring.empty())
        return data.ring;
    std::vector<Complex> poles;
    for (const Component& c : components)
        poles.push_back(c.pole);
    MatrixXd columns = folded(data.ring);
    // Re(c e^{s(B b + m)}) = Re(c e^{sBb}) Re(e^{sm}) - Im(c e^{sBb}) Im(e^{sm})
    MatrixXd factors(2 * static_cast<Index>(poles.size()), columns.cols());
    for (std::size_t i = 0; i < poles.size(); ++i) {
        const Index row = 2 * static_cast<Index>(i);
        const Complex stride = std::exp(poles[i] * static_cast<double>(k_block));
        Complex at = components[i].amplitude;
        for (Index b = 0; b < columns.cols(); ++b) {
            factors(row, b) = at.real();
            factors(row + 1, b) = -at.imag();
            at *= stride;
        }
    }
    columns.noalias() -= power_table(poles).transpose() * factors;
    return {columns.data(), columns.data() + data.ring.size()};
}

} // namespace platewright::modes
