#pragma once
#include "modes/mode.hpp"

namespace platewright::trends {

/// Hanging or holding a plate anew moves its modes by about this share of their frequency (common
/// practice, no source: half a percent between two sessions, so this in each).
inline constexpr double k_hold_share = 0.0035;

/// The same between two sessions: a goal is passed beyond this share of it.
inline constexpr double k_hanging_anew = 0.005;

/// Standard deviation, in Hz, of a mode's frequency as one session gives it, with what the hold
/// adds and no number of taps in that session can show.
double session_sd_hz(const modes::Mode& mode);

/// Whether a mode is at a frequency or below it already, within the interval of its session.
bool is_at(double goal_hz, const modes::Mode& mode);

/// The same of a difference between two sessions.
double difference_sd_hz(const modes::Mode& a, const modes::Mode& b);

} // namespace platewright::trends
