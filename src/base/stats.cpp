#include "base/stats.hpp"

#include <algorithm>
#include <boost/math/distributions/normal.hpp>
#include <boost/math/distributions/students_t.hpp>
#include <cmath>
#include <numeric>
#include <stdexcept>
#include <vector>

namespace platewright::base {
namespace {

// In double throughout: without this Boost would compute in long double.
using Policy = boost::math::policies::policy<boost::math::policies::promote_double<false>>;
using Normal = boost::math::normal_distribution<double, Policy>;
using Student = boost::math::students_t_distribution<double, Policy>;

} // namespace

double log_gamma(double x) {
    if (!(x > 0))
        throw std::invalid_argument("log_gamma needs a number above 0");
    int sign = 0;
    return ::lgamma_r(x, &sign);
}

double mean(std::span<const double> values) {
    if (values.empty())
        return 0;
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

double standard_deviation(std::span<const double> values) {
    if (values.size() < 2)
        return 0;
    const double centre = mean(values);
    double sum = 0;
    for (const double v : values)
        sum += (v - centre) * (v - centre);
    return std::sqrt(sum / static_cast<double>(values.size() - 1));
}

double median(std::span<const double> values) {
    if (values.empty())
        throw std::invalid_argument("median needs at least one value");
    std::vector<double> sorted(values.begin(), values.end());
    std::sort(sorted.begin(), sorted.end());
    const std::size_t half = sorted.size() / 2;
    return sorted.size() % 2 == 1 ? sorted[half] : 0.5 * (sorted[half - 1] + sorted[half]);
}

double robust_deviation(std::span<const double> values) {
    if (values.size() < 2)
        return 0;
    const double centre = median(values);
    std::vector<double> away;
    away.reserve(values.size());
    for (const double v : values)
        away.push_back(std::abs(v - centre));
    return 1.4826 * median(away);
}

double normal_quantile(double probability) {
    if (!(probability > 0 && probability < 1))
        throw std::invalid_argument("a quantile needs 0 < probability < 1");
    return boost::math::quantile(Normal(), probability);
}

double student_quantile(double probability, double freedom) {
    if (!(probability > 0 && probability < 1) || !(freedom > 0))
        throw std::invalid_argument("a Student quantile needs 0 < probability < 1 and freedom > 0");
    return boost::math::quantile(Student(freedom), probability);
}

double student_below(double t, double freedom) {
    if (!std::isfinite(t) || !(freedom > 0))
        throw std::invalid_argument("a Student probability needs a finite t and freedom > 0");
    return boost::math::cdf(Student(freedom), t);
}

} // namespace platewright::base
