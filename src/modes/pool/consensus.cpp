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
    if (freedom == 0 || scatter(0) <= freedom)
        return 0;
    double low = 0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (scatter(middle) > freedom ? low : high) = middle;
    }
    return high;
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
    // The weighted scatter falls as `between` grows; at its expectation that is the estimate.
    double low = 0.0;
    const auto [least, most] = std::minmax_element(values.begin(), values.end());
    double high = *most - *least;
    if (weigh(values, sds, 0.0).scatter <= freedom)
        high = 0.0;
    for (int i = 0; i < 60 && high > 0.0; ++i) {
        const double middle = 0.5 * (low + high);
        (weigh(values, sds, middle).scatter > freedom ? low : high) = middle;
    }
    const int of_these = static_cast<int>(values.size()) - 1, all = of_these + usual.freedom;
    const double between =
        std::sqrt((usual.freedom * usual.between * usual.between + freedom * high * high) / all);
    const Weighted w = weigh(values, sds, between);
    const double scatter = (usual.freedom + std::max(w.scatter, 1e-12)) / all;
    return {w.mean,
            std::sqrt(scatter / w.weight) * base::student_quantile(0.975, all) /
                base::student_quantile(0.975, of_these),
            between};
}

} // namespace platewright::modes
