#include "modes/estimate/gram.hpp"

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

Complex of_degree(const PowerSums& sums, int degree) {
    return degree == 0 ? sums.zeroth : degree == 1 ? sums.first : sums.second;
}

void add(PowerSums& to, const PowerSums& more) {
    to.zeroth += more.zeroth;
    to.first += more.first;
    to.second += more.second;
}

} // namespace

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

Gram::Gram(const Stretches& data, const std::vector<Component>& components)
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

double Gram::product(const Column& u, const Column& v) const {
    if (u.component > v.component)
        return product(v, u);
    const PairSums& pair = pairs_[u.component * count_ + v.component];
    const int degree = u.degree + v.degree;
    return 0.5 * std::real(u.factor * v.factor * of_degree(pair.plain, degree) +
                           u.factor * std::conj(v.factor) * of_degree(pair.conjugated, degree));
}

MatrixXd Gram::matrix(const std::vector<Column>& columns) const {
    const Index size = static_cast<Index>(columns.size());
    MatrixXd gram(size, size);
    for (Index r = 0; r < size; ++r) {
        for (Index c = r; c < size; ++c) {
            gram(r, c) =
                product(columns[static_cast<std::size_t>(r)], columns[static_cast<std::size_t>(c)]);
            gram(c, r) = gram(r, c);
        }
    }
    return gram;
}

VectorXd data_products(const Projections& sums, const std::vector<Column>& columns) {
    VectorXd products(static_cast<Index>(columns.size()));
    for (std::size_t k = 0; k < columns.size(); ++k) {
        const Column& c = columns[k];
        const Complex sum = c.degree == 0 ? sums.plain[c.component] : sums.ramped[c.component];
        products(static_cast<Index>(k)) = std::real(c.factor * sum);
    }
    return products;
}

} // namespace platewright::modes
