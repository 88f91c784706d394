#pragma once
#include "ledger/record.hpp"
#include "modes/mode.hpp"

#include <cstddef>
#include <span>
#include <string>

namespace platewright::trends {

/// Hanging or holding a plate anew moves its modes by about this share of their frequency (common
/// practice, no source: half a percent between two sessions, so this in each).
inline constexpr double k_hold_share = 0.0035;

/// The same between two sessions: a goal is passed beyond this share of it.
inline constexpr double k_hanging_anew = 0.005;

/// Standard deviation, in Hz, of a mode's frequency as one session gives it, with what the hold
/// adds and no number of taps in that session can show.
double session_sd_hz(const modes::Mode& mode);

/// Where a mode stands: Hz, its standard deviation with what the hold adds, and the sessions that
/// tell it.
struct Level {
    bool operator==(const Level&) const = default;
    double hz = 0;
    double sd_hz = 0;
    int sessions = 1;
};

/// By one session alone.
Level level_of(const modes::Mode& mode);

/// Whether a mode is at a frequency or below it already, within its interval.
bool is_at(double goal_hz, const Level& level);

/// The same of a difference between two sessions.
double difference_sd_hz(const modes::Mode& a, const modes::Mode& b);

/// The partial of a tap that belongs to this mode: the nearest, within 3 %; or null.
const modes::Partial* partial_of(std::span<const modes::Partial> tap, const modes::Mode& mode);

/// Why a session's figures are not fit to be compared with another session's, in one sentence: no
/// modes yet, too few taps, or taps that differ too widely (over 1 % in the median over its modes;
/// re-hung and re-tapped, a plate repeats to about half a percent: common practice, no source).
/// Empty when they are. `whose` settles what the sentence calls it. Pure.
enum class Whose { this_session, reference };
std::string unfit_to_compare(const ledger::SessionHistory& session, Whose whose);

/// Why this accepted tap stands apart from the session's others: the mode whose frequency it has
/// furthest off, and by how much. Empty where it has no mode apart. `tap`: index into the session's
/// taps. Pure.
std::string why_apart(const ledger::SessionHistory& session, std::size_t tap);

} // namespace platewright::trends
