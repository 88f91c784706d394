#pragma once
#include <cstddef>
#include <span>

namespace platewright::taps {

/// Roughly the sample at which quiet gives way to the strike: the split that makes both sides most
/// likely as Gaussian noise of two variances,
///   AIC(k) = k ln var(x[0..k)) + (N−k) ln var(x[k..N))
/// Source: the autoregressive onset pickers of seismology in Maeda's form (N. Maeda, Zisin 38,
/// 1985; from memory). In: N ≥ 8 samples that begin in the quiet and end a few ms into the strike.
/// Out: index of the strike's first sample. Pure; any thread.
std::size_t pick_onset(std::span<const float> samples);

/// So much of the strike `refine_onset` wants to see, and so far back it looks for its beginning.
constexpr double k_refined_after_s = 0.010, k_refined_before_s = 0.020;

/// The strike's first sample, looked for from 20 ms before `rough` to 1 ms after it: the same
/// split, of what a linear predictor learnt from the 0.2 s before could not foresee, its usual
/// strength there being that of the quiet side. A strike begins softly, in a room of hums and
/// rumbles that hide its first millisecond; what is new in it, they do not hide. What is 20 dB
/// weaker than the strike and comes before it is no part of it. Source: R. Sleeman, T. van Eck,
/// Phys. Earth Planet. Inter. 113 (1999) 265: the AR-AIC picker (from memory).
/// In:   samples with the room before the strike and 10 ms of it; rough: an index into them, of
///       pick_onset.
/// Out:  an index into them; `rough` itself where less than 40 ms lie before it.
/// Cost: under a millisecond at 48 kHz. Pure; any thread.
std::size_t refine_onset(std::span<const float> samples, std::size_t rough, double sample_rate_hz);

} // namespace platewright::taps
