#pragma once
#include "plate/shape/point.hpp"

#include <cmath>

namespace platewright::plate {

// A plan's parts as plain values: what is computed, shown, and kept in the ledger.

inline constexpr double k_met_hz = 0.3; ///< a target is met within this

/// A mode in a plan: where it is by all that was tapped, and what is expected after the next pass
/// and after all of it.
struct PlanOutcome {
    bool operator==(const PlanOutcome&) const = default;
    int number = 0;
    double now_hz = 0.0;
    double want_hz = 0.0;
    double firmness = 1.0;    ///< 1: to be met; near 0: held softly
    double after_hz = 0.0;    ///< once all of the plan is done
    double after_sd_hz = 0.0; ///< of the shift: wood and model; not of the tap
    double pass_hz = 0.0;     ///< after the next pass
    double pass_sd_hz = 0.0;

    /// Within k_met_hz, or softly held.
    bool is_met() const { return firmness < 1.0 || std::abs(after_hz - want_hz) <= k_met_hz; }
};

/// One place where the scraper works: a round, smooth hollow of about its width.
struct Stroke {
    bool operator==(const Stroke&) const = default;
    Point middle;
    bool mirrored = false; ///< its like on the other side of x = 0 goes with it
    double depth_mm = 0.0; ///< at the middle, if no other stroke overlapped it
};

} // namespace platewright::plate
