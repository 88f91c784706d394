#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>
#include <vector>

namespace platewright::base {
namespace {

// Regularised incomplete beta function by its continued fraction (Lentz's method; W. H. Press et
// al., Numerical Recipes, ch. 6.4, from memory).
double incomplete_beta(double a, double b, double x) {
    if (x <= 0)
        return 0;
    if (x >= 1)
        return 1;
    if (x > (a + 1) / (a + b + 2))
        return 1 - incomplete_beta(b, a, 1 - x);
    constexpr double tiny = 1e-300;
    double c = 1, d = 1 / std::max(tiny, 1 - (a + b) * x / (a + 1)), fraction = d;
    for (int m = 1; m < 500; ++m) {
        const double even = m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m));
        d = 1 / (1 + even * d);
        c = 1 + even / c;
        fraction *= d * c;
        const double odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1));
        d = 1 / (1 + odd * d);
        c = 1 + odd / c;
        fraction *= d * c;
        if (std::abs(d * c - 1) < 1e-15)
            break;
    }
    const double front =
        log_gamma(a + b) - log_gamma(a) - log_gamma(b) + a * std::log(x) + b * std::log1p(-x);
    return std::exp(front) * fraction / a;
}

double student_upper_tail(double t, double freedom) {
    return 0.5 * incomplete_beta(freedom / 2, 0.5, freedom / (freedom + t * t));
}

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
    // Newton steps on the complementary error function: the tail is smooth and the start is close.
    const double tail = std::min(probability, 1 - probability);
    const double t = std::sqrt(-2 * std::log(tail));
    double z = t - (2.30753 + 0.27061 * t) / (1 + 0.99229 * t + 0.04481 * t * t);
    for (int i = 0; i < 4; ++i) {
        const double error = 0.5 * std::erfc(z / std::numbers::sqrt2) - tail;
        z += error * std::sqrt(2 * std::numbers::pi) * std::exp(0.5 * z * z);
    }
    return probability < 0.5 ? -z : z;
}

double student_quantile(double probability, double freedom) {
    if (!(probability > 0 && probability < 1) || !(freedom > 0))
        throw std::invalid_argument("a Student quantile needs 0 < probability < 1 and freedom > 0");
    if (probability < 0.5)
        return -student_quantile(1 - probability, freedom);
    const double tail = 1 - probability;
    double low = 0, high = 1;
    while (student_upper_tail(high, freedom) > tail && high < 1e12)
        high *= 2;
    for (int i = 0; i < 200 && high - low > 1e-9 * high; ++i) {
        const double middle = 0.5 * (low + high);
        (student_upper_tail(middle, freedom) > tail ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

// A(t|n) of whole, not too many degrees of freedom as a finite sum (Abramowitz and Stegun, Handbook
// of Mathematical Functions, 26.7.3 and 26.7.4): the chance that |t'| < |t|.
static double student_within(double t, int n) {
    const double root = std::sqrt(static_cast<double>(n));
    const double sine = std::abs(t) / std::hypot(t, root), cosine = root / std::hypot(t, root);
    const bool odd = n % 2 == 1;
    double term = odd ? cosine : 1.0, sum = 0.0;
    for (int k = odd ? 3 : 2; k <= n; k += 2) {
        sum += term;
        term *= cosine * cosine * (k - 1) / k;
    }
    if (!odd)
        return sine * sum;
    return 2.0 / std::numbers::pi * (std::atan2(sine, cosine) + sine * sum);
}

double student_below(double t, double freedom) {
    if (!std::isfinite(t) || !(freedom > 0))
        throw std::invalid_argument("a Student probability needs a finite t and freedom > 0");
    constexpr double most_summed = 60;
    if (freedom <= most_summed && freedom == std::floor(freedom)) {
        const double within = student_within(t, static_cast<int>(freedom));
        return t < 0 ? 0.5 * (1.0 - within) : 0.5 * (1.0 + within);
    }
    const double tail = student_upper_tail(t, freedom);
    return t < 0 ? tail : 1 - tail;
}

} // namespace platewright::base
