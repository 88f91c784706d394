#include "taps/judge/prediction.hpp"

#include "taps/overlapping.hpp"

#include <Eigen/Core>

#include <stdexcept>

namespace platewright::taps {
namespace {

Eigen::VectorXd doubles(std::span<const float> samples) {
    return Eigen::Map<const Eigen::VectorXf>(samples.data(),
                                             static_cast<Eigen::Index>(samples.size()))
        .cast<double>();
}

/// Σ x[n] x[n + lag] for lag = 0 … most.
Eigen::VectorXd autocorrelation(const Eigen::VectorXd& x, Eigen::Index most) {
    const Eigen::Index common = x.size() - most; // products that every lag has
    Eigen::VectorXd sums = overlapping(x.data(), common, most + 1).transpose() * x.head(common);
    for (Eigen::Index lag = 0; lag < most; ++lag)
        sums(lag) += x.segment(common, most - lag).dot(x.tail(most - lag));
    return sums;
}

} // namespace

// With v the predictor of order m, its leading 1 and a 0 behind it, and R the matrix of the
// products the next order's errors are made of, Burg's k is −vᵀJRv / vᵀRv, J turning upside down. R
// need not stand anywhere: g = Rv, R's last row and the autocorrelations carry over from order to
// order, less what the two ends of the samples lose.
std::vector<double> burg(std::span<const float> samples, int order) {
    const auto count = static_cast<Eigen::Index>(samples.size()),
               most = static_cast<Eigen::Index>(order);
    if (order < 1 || count <= most)
        throw std::invalid_argument("burg needs more samples than its order");
    const Eigen::VectorXd x = doubles(samples);
    const Eigen::VectorXd twice = 2 * autocorrelation(x, most);
    const double both = twice(0) - x(0) * x(0) - x(count - 1) * x(count - 1);
    Eigen::VectorXd v{{1.0, 0.0}}, g{{both, twice(1)}}, last_row{{g(1), both}};
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
        row << twice(size), last_row - last(0) * last.reverse() - first(0) * first.reverse();
        next << g + k * g.reverse() - first.dot(v) * first - last.dot(v) * last,
            row.head(size).dot(v);
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
    std::vector<double> left(samples.size(), 0.0);
    const Eigen::Index count = all.size() - order;
    if (count <= 0)
        return left;
    // Oldest first, so that predictor and samples run alike.
    const Eigen::VectorXd weights =
        Eigen::Map<const Eigen::VectorXd>(predictor.data(), order).reverse();
    Eigen::Map<Eigen::VectorXd>(left.data() + order, count) =
        all.tail(count) + overlapping(all.data(), order, count).transpose() * weights;
    return left;
}

} // namespace platewright::taps
