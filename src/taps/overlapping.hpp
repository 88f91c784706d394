#pragma once
#include <Eigen/Core>

namespace platewright::taps {

/// Columns of samples that overlap, without a copy: filters and correlations are then one matrix
/// product.
using Overlapping = Eigen::Map<const Eigen::MatrixXd, 0, Eigen::OuterStride<>>;

/// Column n holds `length` samples from first[n·step] on; step ≥ 1. What is pointed at must outlive
/// it.
inline Overlapping overlapping(const double* first, Eigen::Index length, Eigen::Index columns,
                               Eigen::Index step = 1) {
    return {first, length, columns, Eigen::OuterStride<>(step)};
}

} // namespace platewright::taps
