#include "taps/prediction.hpp"

#include <stdexcept>

#include <Eigen/Core>

namespace platewright::taps {
namespace {

Eigen::VectorXd doubles(std::span<const float> samples) {
    return Eigen::Map<const Eigen::VectorXf>(samples.data(), static_cast<Eigen::Index>(samples.size())).cast<double>();
}

} // namespace

// With v the predictor of order m, its leading 1 and a 0 behind it, and R the matrix of the products the next order's
// errors are made of, Burg's k is −vᵀJRv / vᵀRv, J turning upside down. R need not stand anywhere: g = Rv, R's last row
// and the autocorrelations carry over from order to order, less what the two ends of the samples lose.
std::vector<double> burg(std::span<const float> samples, int order) {
    const auto count = static_cast<Eigen::Index>(samples.size()), most = static_cast<Eigen::Index>(order);
    if (order < 1 || count <= most)
        throw std::invalid_argument("burg needs more samples than its order");
    const Eigen::VectorXd x = doubles(samples);
    const auto twice_together = [&](Eigen::Index lag) { return 2 * x.head(count - lag).dot(x.tail(count - lag)); };
    const double both = twice_together(0) - x(0) * x(0) - x(count - 1) * x(count - 1);
    Eigen::VectorXd v{{1.0, 0.0}}, g{{both, twice_together(1)}}, last_row{{g(1), both}};
    for (Eigen::Index m = 0; m < most; ++m) {
        const Eigen::Index size = m + 2;
        const double energy = v.dot(g);
        if (energy <= 0)
            break;
        const double k = -v.reverse().dot(g) / energy;
        v += (k * v.reverse()).eval();
        if (m + 1 == most)
            break;
        const auto first = x.head(size).reverse();
        const auto last = x.tail(size);
        Eigen::VectorXd row(size + 1), next(size + 1);
        row << twice_together(size), last_row - last(0) * last.reverse() - first(0) * first.reverse();
        next << g + k * g.reverse() - first.dot(v) * first - last.dot(v) * last, row.head(size).dot(v);
        last_row = row;
        g = next;
        v.conservativeResize(size + 1);
        v(size) = 0;
    }
    return {v.begin() + 1, v.end()};
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
