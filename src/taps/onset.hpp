#pragma once
#include <cstddef>
#include <span>

namespace platewright::taps {

/// The sample at which quiet gives way to the strike: the split that makes both sides most likely as
/// Gaussian noise of two variances,
///   AIC(k) = k ln var(x[0..k)) + (N−k) ln var(x[k..N))
/// Source: the autoregressive onset pickers of seismology in Maeda's form (N. Maeda, Zisin 38, 1985;
/// from memory). In: N ≥ 8 samples that begin in the quiet and end a few ms into the strike.
/// Out: index of the strike's first sample. Pure; any thread.
std::size_t pick_onset(std::span<const float> samples);

} // namespace platewright::taps
