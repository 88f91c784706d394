#include "modes/pool/consensus.hpp"

#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::modes {
namespace {

struct Weighted {
    double mean = 0;
    double scatter = 0; // Σ w (x - mean)²
    double weight = 0;  // Σ w
};

Weighted weigh(std::span<const double> values, std::span<const double> sds, double between) {
    Weighted w;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double weight = 1.0 / (sds[i] * sds[i] + between * between);
        w.weight += weight;
        w.mean += weight * values[i];
    }
    w.mean /= w.weight;
    for (std::size_t i = 0; i < values.size(); ++i) {
        const double weight = 1.0 / (sds[i] * sds[i] + between * between);
        w.scatter += weight * (values[i] - w.mean) * (values[i] - w.mean);
    }
    return w;
}

/// Where the scatter, which falls as `between` grows, is at its expectation; 0 where it is below it
/// already. At `high` it is.
template <class Scatter>
double between_where(double freedom, double high, const Scatter& scatter) {
    if (scatter(0.0) <= freedom)
        return 0.0;
    double low = 0.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (scatter(middle) > freedom ? low : high) = middle;
    }
    return high;
}

} // namespace

double between_of(std::span<const Measured> quantities) {
    constexpr double k_most_scatter = 4.0; // times what is expected
    double freedom = 0, high = 0;
    for (const Measured& one : quantities) {
        if (one.values.size() < 2)
            continue;
        freedom += static_cast<double>(one.values.size() - 1);
        const auto [least, most] = std::ranges::minmax(one.values);
        high = std::max(high, (most - least) / one.unit);
    }
    const auto scatter = [&](double between) {
        double sum = 0;
        for (const Measured& one : quantities)
            if (one.values.size() > 1)
                sum += std::min(weigh(one.values, one.sds, between * one.unit).scatter,
                                k_most_scatter * static_cast<double>(one.values.size() - 1));
        return sum;
    };
    return between_where(freedom, high, scatter);
}

Consensus consensus(std::span<const double> values, std::span<const double> sds,
                    const UsualScatter& usual) {
    if (values.empty() || values.size() != sds.size()) {
        throw std::invalid_argument("consensus needs values, and a deviation for each");
    }
    if (std::any_of(sds.begin(), sds.end(), [](double s) { return !(s > 0.0); })) {
        throw std::invalid_argument("consensus needs deviations above zero");
    }
    if (values.size() == 1)
        return {values[0], sds[0], 0.0};
    const auto freedom = static_cast<double>(values.size() - 1);
    const auto [least, most] = std::ranges::minmax(values);
    const double high = between_where(
        freedom, most - least, [&](double between) { return weigh(values, sds, between).scatter; });
    const int of_these = static_cast<int>(values.size()) - 1, all = of_these + usual.freedom;
    const double between = std::sqrt(
        moderated_variance(high * high, freedom, usual.between * usual.between, usual.freedom));
    const Weighted w = weigh(values, sds, between);
    const double scatter =
        moderated_variance(std::max(w.scatter, 1e-12) / freedom, freedom, 1.0, usual.freedom);
    return {w.mean,
            std::sqrt(scatter / w.weight) * base::student_quantile(0.975, all) /
                base::student_quantile(0.975, of_these),
            between};
}

} // namespace platewright::modes
