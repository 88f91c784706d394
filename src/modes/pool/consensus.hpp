#pragma once
#include <span>

namespace platewright::modes {

/// What several measurements of one quantity agree on, when each has its own deviation and the
/// quantity itself differs from one to the next (the hold).
struct Consensus {
    double value = 0;
    double sd = 0;      ///< of value; an interval is value ± Student's quantile(n-1)·sd, n ≥ 2
    double between = 0; ///< standard deviation from one measurement to the next, fit's own left out
};

/// Random-effects mean: weights 1/(sd² + between²), `between` from the scatter (Paule & Mandel
/// 1982, docs/sources.md#paule-mandel), sd from the weighted scatter (Hartung & Knapp 2001,
/// docs/sources.md#hartung-knapp), which makes Student's t intervals exact where the fits'
/// deviations are right up to a common factor.
/// In:   one or more values, sds of the same size, all > 0. With one value its own sd is returned.
/// Threads: any.
Consensus consensus(std::span<const double> values, std::span<const double> sds);

} // namespace platewright::modes
