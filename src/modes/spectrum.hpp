#pragma once
#include <memory>
#include <span>
#include <vector>

namespace platewright::modes {

/// Amplitude spectrum on an even grid: level_dbfs[i] at i·step_hz. A sinusoid of amplitude 1 that
/// fills the window reads 0 dBFS.
struct Spectrum {
    double step_hz = 0;
    std::vector<float> level_dbfs;
};

/// Fourier spectrum (KissFFT, Hann window, zero-padded to at least 4× and an even size of factors
/// 2, 3, 5) of `samples` at `sample_rate_hz`, up to `highest_hz`. Empty for no samples.
/// For pictures and candidates; never a measurement: a peak is biased by decay and neighbours.
Spectrum spectrum(std::span<const float> samples, double sample_rate_hz, double highest_hz);

/// Mean in power of spectra with the same step and length; empty for none.
Spectrum mean_spectrum(std::span<const Spectrum> spectra);

} // namespace platewright::modes
