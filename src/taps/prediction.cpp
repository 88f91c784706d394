#include "taps/prediction.hpp"

#include <algorithm>
#include <stdexcept>

#include <Eigen/Core>

namespace platewright::taps {
namespace {

Eigen::VectorXd doubles(std::span<const float> samples) {
    return Eigen::Map<const Eigen::VectorXf>(samples.data(), static_cast<Eigen::Index>(samples.size())).cast<double>();
}

} // namespace

std::vector<double> burg(std::span<const float> samples, int order) {
    const auto most = static_cast<std::size_t>(order);
    if (order < 1 || samples.size() <= most)
        throw std::invalid_argument("burg needs more samples than its order");
    // Of order m the forward error of sample n stands at n, the backward error of sample n − 1 at n − 1 − m: what an
    // order takes together lies side by side.
    Eigen::VectorXd forward = doubles(samples), backward = forward, old;
    std::vector<double> a;
    a.reserve(most);
    for (std::size_t m = 0; m < most; ++m) {
        const auto length = static_cast<Eigen::Index>(samples.size() - 1 - m);
        auto f = forward.tail(length), b = backward.head(length);
        const double energy = f.squaredNorm() + b.squaredNorm();
        if (energy <= 0)
            break;
        const double k = -2 * f.dot(b) / energy;
        old = f;
        f += k * b;
        b += k * old;
        a.push_back(k);
        for (std::size_t i = 0, j = m; i < j; ++i) {
            --j;
            const double low = a[i], high = a[j];
            a[i] = low + k * high;
            if (i != j)
                a[j] = high + k * low;
        }
    }
    return a;
}

std::vector<double> innovation(std::span<const float> samples, std::span<const double> predictor) {
    const Eigen::VectorXd all = doubles(samples);
    const auto order = static_cast<Eigen::Index>(predictor.size());
    // Oldest first, so that predictor and samples run alike.
    const Eigen::VectorXd weights = Eigen::Map<const Eigen::VectorXd>(predictor.data(), order).reverse();
    std::vector<double> left(samples.size(), 0.0);
    for (Eigen::Index n = order; n < all.size(); ++n)
        left[static_cast<std::size_t>(n)] = all(n) + weights.dot(all.segment(n - order, order));
    return left;
}

} // namespace platewright::taps
