#pragma once
// The Cramér–Rao bound of damped sinusoids in white noise, from the Fisher matrix summed sample by
// sample: no closed form is trusted, and no code of src/ is used.
#include "support/synth.hpp"

#include <Eigen/Dense>

#include <cmath>
#include <numbers>
#include <vector>

namespace bound {

struct Bound {
    double hz = 0;    ///< least standard deviation of a frequency
    double decay = 0; ///< of a decay rate, 1/s
};

/// Four unknowns a ring (amplitude, phase, frequency, decay), all rings at once, samples from
/// `from_s` after the strike to `to_s`.
inline std::vector<Bound> cramer_rao(const std::vector<synth::Ring>& rings, double noise,
                                     double rate_hz, double from_s, double to_s) {
    const auto unknowns = static_cast<Eigen::Index>(4 * rings.size());
    Eigen::MatrixXd fisher = Eigen::MatrixXd::Zero(unknowns, unknowns);
    Eigen::VectorXd slope(unknowns);
    const auto first = static_cast<long>(std::lround(from_s * rate_hz));
    const auto last = static_cast<long>(std::lround(to_s * rate_hz));
    for (long n = first; n < last; ++n) {
        const double t = static_cast<double>(n) / rate_hz;
        for (std::size_t i = 0; i < rings.size(); ++i) {
            const synth::Ring& ring = rings[i];
            const double envelope = std::exp(-ring.decay() * t);
            const double angle = 2.0 * std::numbers::pi * ring.hz * t + ring.phase;
            const auto at = static_cast<Eigen::Index>(4 * i);
            slope(at) = envelope * std::cos(angle);
            slope(at + 1) = -ring.amplitude * envelope * std::sin(angle);
            slope(at + 2) =
                -ring.amplitude * envelope * std::sin(angle) * 2.0 * std::numbers::pi * t;
            slope(at + 3) = -t * ring.amplitude * envelope * std::cos(angle);
        }
        fisher.noalias() += slope * slope.transpose() / (noise * noise);
    }
    // Scaled to a unit diagonal before inverting: the unknowns have very different units.
    const Eigen::VectorXd scale = fisher.diagonal().cwiseSqrt().cwiseInverse();
    const Eigen::MatrixXd scaled = scale.asDiagonal() * fisher * scale.asDiagonal();
    const Eigen::MatrixXd inverse = scale.asDiagonal() * scaled.inverse() * scale.asDiagonal();
    std::vector<Bound> bounds;
    for (std::size_t i = 0; i < rings.size(); ++i) {
        const auto at = static_cast<Eigen::Index>(4 * i);
        bounds.push_back({std::sqrt(inverse(at + 2, at + 2)), std::sqrt(inverse(at + 3, at + 3))});
    }
    return bounds;
}

} // namespace bound
