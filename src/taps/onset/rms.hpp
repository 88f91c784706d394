#pragma once
#include "base/level.hpp"

#include <Eigen/Core>

#include <cmath>
#include <span>

namespace platewright::taps {

/// Root mean square in dB of full scale; silence for no samples.
inline double rms_dbfs(std::span<const float> samples) {
    const auto size = static_cast<Eigen::Index>(samples.size());
    const double sum =
        Eigen::Map<const Eigen::VectorXf>(samples.data(), size).cast<double>().squaredNorm();
    return samples.empty()
               ? base::k_silence_db
               : base::amplitude_to_db(std::sqrt(sum / static_cast<double>(samples.size())));
}

} // namespace platewright::taps
