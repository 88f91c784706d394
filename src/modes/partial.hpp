#pragma once

namespace platewright::modes {

/// One damped sinusoid found in one tap:  a·e^(−δ t)·cos(2π f t + φ),  t from the strike.
/// Q = π f / δ: amplitude decay, not energy, not T60.
struct Partial {
    bool operator==(const Partial&) const = default;
    double frequency_hz = 0;
    double frequency_sd_hz = 0;
    double q = 0;
    double q_sd = 0;
    double level_db = 0; ///< relative to the strongest partial of the list, ≤ 0, at the time the
                         ///< hammer has left the wood (FitParams::skip_s): what dies sooner
                         ///< can't be carried back to the strike
    double level_dbfs = 0; ///< amplitude a at the strike
    double level_sd_db = 0;
    double phase_rad = 0; ///< −π..π
    double phase_sd_rad = 0;
};

/// Below it is a thump or the hold, not a vibration of wood.
inline constexpr double k_least_mode_q = 6.0;

} // namespace platewright::modes
