#pragma once
#include <span>
#include <vector>

namespace platewright::modes {

/// A place where a damped sinusoid seems to ring.
struct Candidate {
    double angle = 0; ///< radians a sample
    double decay = 0; ///< amplitude's rate per sample, to a factor of two
    double score = 0; ///< drop of the residual energy it would bring, in variances of the noise
};

/// Looks for damped sinusoids by matched filters: Fourier spectra of the samples under falling
/// exponentials of several decays, 2|X|²/Σw² being the energy such a component would take away.
/// In:   white samples of variance one plus signal; least_score > 0.
/// Out:  local maxima above least_score, strongest first, one for each peak; truncation ripples of
///       stronger ones left out. At most `most`.
/// Cost: a few FFTs.  Threads: any.
std::vector<Candidate> find_candidates(std::span<const double> samples, double least_score,
                                       std::size_t most);

/// How far from a candidate another peak must stand to be told from it in a spectrum, radians a
/// sample.
double resolution(const Candidate& candidate, std::size_t samples);

} // namespace platewright::modes
