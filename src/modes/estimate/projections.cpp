#include "modes/estimate/projections.hpp"

#include <Eigen/Core>

#include <algorithm>
#include <cmath>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXd;

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
    // Whole columns as they lie in memory; what is left over fills part of one more.
    const Index size = static_cast<Index>(samples.size()), whole = size / k_block,
                rest = size % k_block;
    MatrixXd local(both.rows(), whole + (rest > 0 ? 1 : 0));
    local.leftCols(whole).noalias() =
        both * Eigen::Map<const MatrixXd>(samples.data(), k_block, whole);
    if (rest > 0)
        local.col(whole).noalias() =
            both.leftCols(rest) *
            Eigen::Map<const Eigen::VectorXd>(samples.data() + whole * k_block, rest);
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

} // namespace

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
