#pragma once
#include <Eigen/Core>

#include <algorithm>
#include <complex>
#include <vector>

namespace platewright::modes {

/// One term Re(amplitude · e^{pole · n}) of a sum of damped sinusoids; n counts samples of a
/// stretch from the ring's first one.
struct Component {
    std::complex<double> pole;      ///< per sample: -decay + j·angle, 0 < angle < π
    std::complex<double> amplitude; ///< at n = 0
    bool steady = false; ///< a line that also stands before the strike and does not decay
    double joined =
        0; ///< how unsure its angle is, for it stands for two modes (search.hpp); radians a sample
};

/// What is fitted: white (or whitened) samples of the ring, and of the quiet before the strike.
struct Stretches {
    std::vector<double> ring;   ///< n = 0 … ring.size()-1
    std::vector<double> before; ///< n = before_first … ; may be empty
    long before_first = 0;      ///< index of before[0]; before_first + before.size() ≤ 0
};

/// Outcome of a least-squares fit. Parameters of one component stand in the order
/// Re amplitude, Im amplitude, Re pole (absent for a steady line), Im pole.
struct DampedFit {
    std::vector<Component> components;
    std::vector<long> first_parameter; ///< of each component, into `inverse`
    Eigen::MatrixXd inverse;           ///< (JᵀJ)⁻¹; times the noise variance: the covariance
    double residual_energy = 0.0;      ///< Σ (sample - model)² over both stretches
    bool converged = false;
};

struct DampedFitParams {
    int max_steps = 30;   // steps tried, the refused ones included
    double enough = 1e-4; // stop when a step promises less, in variances of the residual
};

/// Least squares for a sum of damped real sinusoids: amplitudes solved exactly for each set of
/// poles, poles by damped Gauss-Newton steps of that reduced problem.
/// y[n] = Σ Re(c_i e^{s_i n}); Source: Golub & Pereyra 1973 with Kaufman's step
/// (docs/sources.md#golub-pereyra). All sums but those with the data are closed forms.
/// In:   ring of N ≥ 8 samples, poles as start values with 0 < Im s < π.
/// Re s is the amplitude's rate, half of the energy's.
/// Fails: converged = false after max_steps; never NaN.  Cost: O(N·K) a step.  Threads: any.
DampedFit fit_damped(const Stretches& data, std::vector<Component> start,
                     const DampedFitParams& params = {});

/// The ring's samples less the model.
std::vector<double> ring_residual(const Stretches& data, const std::vector<Component>& components);

/// Energy of one component's ring by itself, to its end.
inline double ring_energy(const Component& c) {
    return 0.25 * std::norm(c.amplitude) / std::max(1e-12, -c.pole.real());
}

} // namespace platewright::modes