#pragma once
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

namespace platewright::modes {

/// A strike of a hammer that tells its force, on the frames that the sound has too.
struct ForcedStrike {
    std::span<const float> force; ///< full scale ±1
    std::span<const float> heard; ///< as many samples, of the same instants
    std::size_t onset = 0;        ///< index of the strike's first sample in both
};

enum class ForceVerdict {
    good,
    none,        ///< no force that stands over the channel's own noise
    clipped,     ///< it reached full scale: its shape is not known
    struck_twice ///< a second push, within the sound that counts
};

/// How a plate answers a force, by frequency.
struct Response {
    double step_hz = 0;                   ///< values stand at 0, step_hz, 2 step_hz, …
    std::vector<std::complex<double>> h1; ///< full scale of the sound for one newton (see below)
    std::vector<double> coherence;        ///< 0 to 1; 1 where there is but one strike
    int strikes = 0;
    double driven_to_hz = 0; ///< up to here the force stands within 20 dB of its strongest

    std::size_t bin(double hz) const; ///< the nearest, within the table
    /// What it tells at a mode, from the nearest bin, 0.25 Hz away at most.
    struct Reading {
        double h1 = 0; ///< |H1|
        double phase_rad = 0;
        double relative_sd = 0; ///< of h1; with more than one strike
        double coherence = 0;   ///< likewise
    };
    Reading at(double hz) const;
    /// One standard deviation of |H1| at a bin, relative: √(1−γ²) / (γ √(2 n)).
    double relative_sd(std::size_t bin) const;
};

/// Response from strikes with their force: H1 = G_fy / G_ff, coherence γ² = |G_fy|² / (G_ff G_yy),
/// each spectral density the mean over the strikes. Noise in the sound does not bias H1; noise in
/// the force does, downwards. Source: J. S. Bendat & A. G. Piersol, Random Data, ch. 6 and 9 (from
/// memory); the force's window after ISO 7626-5 (impact excitation; from memory): the push alone is
/// let through, so that the channel's noise after it does not count. In: strikes of one spot; rate
/// 8 to 400 kHz; newton: the force at full scale (> 0), 1 where it is not known, and h1 then counts
/// in full scales of the force. The sound is not windowed but for its last 20 ms: a tap ends when
/// its ring has gone. Threads: one. Cost: two transforms of 2 s a strike; memory does not grow with
/// strikes.
class ResponseEstimate {
public:
    explicit ResponseEstimate(double sample_rate_hz, double newton = 1.0);
    /// Takes a strike that is good; any other is only judged.
    /// Throws std::invalid_argument: spans of unequal length, an onset beyond them.
    ForceVerdict add(const ForcedStrike& strike);
    /// Empty (no strikes) before the first good one.
    Response result() const;

private:
    std::vector<std::complex<double>> transformed(const std::vector<double>& samples) const;
    double rate_hz_, newton_;
    std::size_t length_, bins_;
    int strikes_ = 0;
    std::vector<double> force_power_, heard_power_;
    std::vector<std::complex<double>> cross_;
};

} // namespace platewright::modes
