#pragma once
#include <complex>
#include <span>
#include <vector>

namespace platewright::modes {

/// A prediction-error filter that makes the room's noise white and of variance one. A damped
/// sinusoid passes it unchanged but for a complex factor, so a fit on whitened samples weighs each
/// frequency by the noise there.
struct Whitener {
    std::vector<double> taps{1.0}; ///< y[n] = Σ taps[k] x[n-k]; minimum phase
};

/// Learns the noise's spectrum from samples that may hold a few narrow lines or decaying modes: a
/// running median over the periodogram steps over them; the filter follows from its
/// autocorrelation (Levinson & Durbin; Hayes 1996, docs/sources.md#hayes).
/// In:   64 samples or more, else the answer only scales; order 0 … 32.
/// least_variance: what is quieter is taken to have this variance, the rest of it white; 0: none.
/// Never fails: for digital silence the variance is taken as that of 24-bit rounding.
/// Cost: one FFT.  Threads: any.
Whitener learn_whitener(std::span<const double> samples, int order, double least_variance = 0);

/// y of size samples.size() - (taps.size() - 1): only where the filter is full. Empty if too short.
std::vector<double> whitened(const Whitener& whitener, std::span<const double> samples);

/// What the filter does to a component e^{s n}.
std::complex<double> response(const Whitener& whitener, std::complex<double> s);

} // namespace platewright::modes
