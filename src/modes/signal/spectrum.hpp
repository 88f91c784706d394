#pragma once
#include <complex>
#include <cstddef>
#include <memory>
#include <span>
#include <vector>

namespace platewright::modes {

/// Smallest 2^k or 3·2^k, even, that is ≥ `at_least`: what KissFFT takes without allocating, and
/// few enough lengths for plans to be used again.
std::size_t fast_length(std::size_t at_least);

/// Fourier transform of real samples, X[k] = Σ x[n] e^{−2πj k n / length}, k = 0 … length/2.
/// Single precision (relative error near 1e-6): for finding peaks and for pictures; fits work on
/// the samples in double.
/// Threads: one owner, the plan keeps scratch memory; plans are kept for the thread's next
/// transform of the length.
class RealTransform {
public:
    explicit RealTransform(std::size_t length); ///< even, ≥ 2; best from fast_length
    ~RealTransform();
    RealTransform(RealTransform&&) noexcept;
    RealTransform& operator=(RealTransform&&) noexcept;

    std::size_t length() const noexcept;
    /// `samples` shorter than length are padded with zeros. The answer (length/2 + 1 values) is
    /// valid until the next call.
    std::span<const std::complex<float>> transform(std::span<const double> samples);

private:
    struct Plan;
    std::shared_ptr<Plan> plan_;
    std::vector<std::complex<float>> output_; // length/2 + 1
};

/// The grid of every Spectrum, whatever the sample rate: spectra of different days lie on one
/// another.
inline constexpr double k_spectrum_step_hz = 0.5;

/// Amplitude spectrum: level_dbfs[i] at i·step_hz. A sinusoid of amplitude 1 that fills the window
/// reads 0 dBFS.
struct Spectrum {
    double step_hz = 0;
    std::vector<float> level_dbfs;
};

/// Fourier spectrum of a ring, its first sample the strike, up to `highest_hz` and below half the
/// rate. KissFFT, zero-padded to at least 4×, under the falling half of a Hann window: a whole one
/// would rise from nothing just where the ring is loudest. Empty for no samples. For pictures;
/// never a measurement: a peak is biased by decay and neighbours.
Spectrum spectrum(std::span<const float> ring, double sample_rate_hz, double highest_hz);

/// Mean in power, up to the lowest of their highest frequencies; empty for none.
Spectrum mean_spectrum(std::span<const Spectrum> spectra);

/// The same of spectra as they come: what was added is not looked at again.
class RunningMean {
public:
    void add(const Spectrum& one);
    Spectrum mean() const;

private:
    std::vector<double> power_; ///< sums
    std::size_t count_ = 0;
};

} // namespace platewright::modes
