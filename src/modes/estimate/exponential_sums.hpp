#pragma once
#include <complex>

namespace platewright::modes {

/// Sums over a damped exponential, the building stones of every Gram matrix in this folder.
struct PowerSums {
    std::complex<double> zeroth; ///< Σ e^{s n}
    std::complex<double> first;  ///< Σ n e^{s n}
    std::complex<double> second; ///< Σ n² e^{s n}
};

/// Sums n^p e^{s n}, p = 0, 1, 2, over n = 0 … count-1, without visiting the samples.
/// (1-q) Σ n^p q^n telescopes to the sum of order p-1 (geometric series, any analysis text).
/// In:   s per sample, Re s ≤ a few / count so that e^{s·count} does not overflow; count ≥ 0.
/// Near s = 0 (modulo 2πj) the closed form cancels: there a power series stands in.
/// Relative error below 1e-10.  Threads: any.
PowerSums exponential_sums(std::complex<double> s, long count);

/// The same sums over n = first … first+count-1; first may be negative.
PowerSums exponential_sums(std::complex<double> s, long first, long count);

} // namespace platewright::modes
