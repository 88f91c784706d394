#pragma once
#include <complex>
#include <span>
#include <vector>

namespace platewright::modes {

struct SubBand {
    double centre = 0; ///< radians a sample
    double half = 0;   ///< half width, radians a sample, > 0
};

/// Poles of the damped sinusoids within a narrow band of real samples: starts for a fit.
/// Brings the band to 0 Hz, decimates, and takes the poles from the signal space's shift invariance
/// (ESPRIT: Roy & Kailath 1989, docs/sources.md#esprit); the number of poles, up to `most`, is the
/// one whose least-squares fit of the band has the best Bayes information criterion for noise of
/// variance one.
/// In:   white samples of variance one plus signal.  Out: s per sample, Im s within the band.
/// Fails: empty when nothing stands out or the stretch is too short.
/// Cost: small next to one step of fit_damped.  Threads: any.
std::vector<std::complex<double>> subspace_poles(std::span<const double> samples,
                                                 const SubBand& band, int most);

} // namespace platewright::modes
