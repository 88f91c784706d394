#pragma once
#include <span>
#include <vector>

namespace platewright::taps {

/// Coefficients a[0..order) of the linear predictor x[n] ≈ −Σ a[i]·x[n−1−i] by Burg's method
/// (J. P. Burg, 1967; from memory). A sum of damped sinusoids is predicted from its past; a strike
/// is not. In: more samples than order. Cost: samples × order, one product each (K. Vos, A fast
/// implementation of Burg's method, 2013, names the way; derived anew in prediction.cpp). Fewer
/// coefficients where nothing is left to foresee.
std::vector<double> burg(std::span<const float> samples, int order);

/// What the predictor could not foresee: x[n] + Σ a[i]·x[n−1−i]; the first `order` are 0.
std::vector<double> innovation(std::span<const float> samples, std::span<const double> predictor);

} // namespace platewright::taps
