#include "modes/exponential_sums.hpp"

#include <cmath>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;

/// 1 - e^s without cancellation for small s.
Complex one_minus_exp(Complex s) {
    const double half_sine = std::sin(0.5 * s.imag());
    const double growth = std::expm1(s.real());
    const double real = growth * std::cos(s.imag()) - 2.0 * half_sine * half_sine;
    return {-real, -(growth + 1.0) * std::sin(s.imag())};
}

/// Blocks keep the rounding of the running power from piling up.
PowerSums sum_directly(Complex s, long count) {
    constexpr long block = 256;
    const Complex step = std::exp(s);
    PowerSums sums{};
    for (long start = 0; start < count; start += block) {
        Complex power = std::exp(s * static_cast<double>(start));
        const long end = std::min(count, start + block);
        for (long n = start; n < end; ++n) {
            const auto index = static_cast<double>(n);
            sums.zeroth += power;
            sums.first += index * power;
            sums.second += index * index * power;
            power *= step;
        }
    }
    return sums;
}

PowerSums sum_of_powers(long count) {
    const auto n = static_cast<double>(count);
    return {n, 0.5 * n * (n - 1.0), n * (n - 1.0) * (2.0 * n - 1.0) / 6.0};
}

} // namespace

PowerSums exponential_sums(Complex s, long count) {
    // Below this the closed form's second sum loses more than about four digits.
    constexpr double closed_form_limit = 0.3;
    if (count <= 0)
        return {};
    const auto length = static_cast<double>(count);
    const Complex difference = one_minus_exp(s);
    if (difference == Complex{})
        return sum_of_powers(count);
    if (std::abs(difference) * length < closed_form_limit)
        return sum_directly(s, count);
    const Complex reciprocal = 1.0 / difference;
    const Complex end_power = std::exp(s * length);
    const double last = length - 1.0;
    PowerSums sums;
    sums.zeroth = (1.0 - end_power) * reciprocal;
    sums.first = (sums.zeroth - 1.0 - last * end_power) * reciprocal;
    sums.second = (2.0 * sums.first - sums.zeroth + 1.0 - last * last * end_power) * reciprocal;
    return sums;
}

PowerSums exponential_sums(Complex s, long first, long count) {
    PowerSums sums = exponential_sums(s, count);
    if (first == 0)
        return sums;
    const auto offset = static_cast<double>(first);
    const Complex shift = std::exp(s * offset);
    sums.second = shift * (sums.second + 2.0 * offset * sums.first + offset * offset * sums.zeroth);
    sums.first = shift * (sums.first + offset * sums.zeroth);
    sums.zeroth *= shift;
    return sums;
}

} // namespace platewright::modes
