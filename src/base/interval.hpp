#pragma once
#include "base/stats.hpp"

namespace platewright::base {

/// What stands after ± and between brackets, everywhere: an interval that holds the value with this
/// probability. One convention, so that figures of one thing can be set beside each other.
inline constexpr double k_coverage = 0.95;

/// Half of that interval of a value with this standard deviation: 1.96 of them.
constexpr double plus_minus(double sd) { return 1.959963984540054 * sd; }

/// The same where the deviation itself is known from few values only, by Student's t.
inline double plus_minus(double sd, double freedom) {
    return student_quantile(0.5 * (1.0 + k_coverage), freedom) * sd;
}

} // namespace platewright::base
