#pragma once
#include <span>

namespace platewright::base {

/// Mean; 0 for none.
double mean(std::span<const double> values);

/// Sample standard deviation (divisor n−1); 0 for fewer than two values.
double standard_deviation(std::span<const double> values);

/// Median (mean of the middle two for an even count); throws std::invalid_argument on none.
double median(std::span<const double> values);

/// 1.4826 × the median absolute deviation from the median: the standard deviation where the values
/// are normal, and little moved by outliers. 0 for fewer than two values.
double robust_deviation(std::span<const double> values);

/// Quantile of the standard normal distribution; 0 < probability < 1. |error| < 1e-9.
double normal_quantile(double probability);

/// Quantile of Student's t with `freedom` > 0 degrees (need not be whole); 0 < probability < 1.
/// Relative error < 1e-6.
double student_quantile(double probability, double freedom);

/// ln Γ(x) for x > 0; any thread, where std::lgamma writes a sign that all threads share.
double log_gamma(double x);

/// Probability that Student's t with `freedom` > 0 degrees is below t (any finite number).
/// |error| < 1e-10.
double student_below(double t, double freedom);

} // namespace platewright::base
