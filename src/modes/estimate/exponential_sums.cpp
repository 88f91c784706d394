#include "modes/estimate/exponential_sums.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace platewright::modes {
namespace {

using Complex = std::complex<double>;

/// 1 - e^s without cancellation for small s.
Complex one_minus_exp(Complex s) {
    const double half_sine = std::sin(0.5 * s.imag()), half_cosine = std::cos(0.5 * s.imag());
    const double growth = std::expm1(s.real());
    const double rest = 2.0 * half_sine * half_sine; // 1 - cos
    return {rest - growth * (1.0 - rest), -2.0 * (growth + 1.0) * half_sine * half_cosine};
}

constexpr int k_terms = 14; // 0.3^14 / 14! is far below the rounding

/// Σ_{n=0}^{count-1} n^m for m = 0 … k_terms+2: Euler and Maclaurin's formula, exact for a power
/// but for terms that N ≥ 64 makes negligible beside its first.
std::array<double, k_terms + 3> sums_of_powers(double count) {
    std::array<double, k_terms + 3> sums{};
    const double inverse = 1.0 / count;
    double power = count; // count^{m+1}
    for (int m = 0; m < k_terms + 3; ++m) {
        const double order = m;
        // The corrections' values at 0 cancel those of the lowest powers.
        const double second = m < 2 ? 0.0 : order * inverse * inverse / 12.0;
        const double fourth =
            m < 4 ? 0.0 : order * (order - 1.0) * (order - 2.0) * std::pow(inverse, 4) / 720.0;
        sums[static_cast<std::size_t>(m)] =
            power * (1.0 / (order + 1.0) - 0.5 * inverse + second - fourth);
        power *= count;
    }
    sums[0] = count;
    return sums;
}

/// Power series in s about 0: Σ n^p e^{sn} = Σ_k s^k / k! Σ n^{p+k}.
PowerSums sum_by_series(Complex s, long count) {
    const auto powers = sums_of_powers(static_cast<double>(count));
    PowerSums sums{};
    Complex factor{1.0, 0.0};
    for (std::size_t k = 0; k < k_terms; ++k) {
        sums.zeroth += factor * powers[k];
        sums.first += factor * powers[k + 1];
        sums.second += factor * powers[k + 2];
        factor *= s / static_cast<double>(k + 1);
    }
    return sums;
}

PowerSums sum_directly(Complex s, long count) {
    const Complex step = std::exp(s);
    Complex power{1.0, 0.0};
    PowerSums sums{};
    for (long n = 0; n < count; ++n) {
        const auto index = static_cast<double>(n);
        sums.zeroth += power;
        sums.first += index * power;
        sums.second += index * index * power;
        power *= step;
    }
    return sums;
}

} // namespace

PowerSums exponential_sums(Complex s, long count) {
    // Below this the closed form's second sum loses more than about four digits.
    constexpr double closed_form_limit = 0.3;
    constexpr long few = 64;
    if (count <= 0)
        return {};
    if (count < few)
        return sum_directly(s, count);
    const auto length = static_cast<double>(count);
    const Complex difference = one_minus_exp(s);
    if (std::norm(difference) * length * length < closed_form_limit * closed_form_limit) {
        const double turns = std::round(s.imag() / (2.0 * std::numbers::pi));
        return sum_by_series({s.real(), s.imag() - 2.0 * std::numbers::pi * turns}, count);
    }
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
