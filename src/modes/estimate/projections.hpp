#pragma once
#include "modes/estimate/damped_model.hpp"

#include <complex>
#include <vector>

namespace platewright::modes {

/// Σ y e^{s n} and Σ n y e^{s n} for every component.
struct Projections {
    std::vector<std::complex<double>> plain;
    std::vector<std::complex<double>> ramped;
};

/// Over the ring; for steady lines over the stretch before it as well. O(samples · components), all
/// of it in one matrix product.  Threads: any.
Projections project_all(const Stretches& data, const std::vector<Component>& components);

} // namespace platewright::modes
