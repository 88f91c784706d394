#pragma once
#include "modes/estimate/damped_model.hpp"
#include "modes/estimate/exponential_sums.hpp"
#include "modes/estimate/projections.hpp"

#include <Eigen/Core>

#include <complex>
#include <cstddef>
#include <vector>

namespace platewright::modes {

/// A column of the Jacobian is Re(factor · n^degree · e^{s n}).
struct Column {
    std::size_t component;
    std::complex<double> factor;
    int degree;
};

/// Real and imaginary part of each amplitude.
std::vector<Column> amplitude_columns(const std::vector<Component>& components);

/// All parameters, in the order DampedFit states; first_parameter gets each component's first.
std::vector<Column> all_columns(const std::vector<Component>& components,
                                std::vector<long>& first_parameter);

/// Inner products of columns over the stretches, by closed forms.
class Gram {
public:
    Gram(const Stretches& data, const std::vector<Component>& components);
    Eigen::MatrixXd matrix(const std::vector<Column>& columns) const;

private:
    /// Sums over products of two components, the second one plain and conjugated.
    struct PairSums {
        PowerSums plain;
        PowerSums conjugated;
    };
    double product(const Column& u, const Column& v) const;

    std::size_t count_;
    std::vector<PairSums> pairs_;
};

/// Inner products of the columns with the data.
Eigen::VectorXd data_products(const Projections& sums, const std::vector<Column>& columns);

} // namespace platewright::modes
