#include "taps/prediction.hpp"

#include <algorithm>
#include <stdexcept>

namespace platewright::taps {

std::vector<double> burg(std::span<const float> samples, int order) {
    const std::size_t count = samples.size(), most = static_cast<std::size_t>(order);
    if (order < 1 || count <= most)
        throw std::invalid_argument("burg needs more samples than its order");
    std::vector<double> forward(samples.begin(), samples.end()), backward = forward;
    std::vector<double> a;
    a.reserve(most);
    for (std::size_t m = 0; m < most; ++m) {
        double across = 0, energy = 0;
        for (std::size_t n = m + 1; n < count; ++n) {
            across += forward[n] * backward[n - 1];
            energy += forward[n] * forward[n] + backward[n - 1] * backward[n - 1];
        }
        if (energy <= 0)
            break;
        const double k = -2 * across / energy;
        for (std::size_t n = count - 1; n > m; --n) {
            const double f = forward[n];
            forward[n] = f + k * backward[n - 1];
            backward[n] = backward[n - 1] + k * f;
        }
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
    std::vector<double> left(samples.size(), 0.0);
    const std::size_t order = predictor.size();
    for (std::size_t n = order; n < samples.size(); ++n) {
        double sum = static_cast<double>(samples[n]);
        for (std::size_t i = 0; i < order; ++i)
            sum += predictor[i] * static_cast<double>(samples[n - 1 - i]);
        left[n] = sum;
    }
    return left;
}

} // namespace platewright::taps
