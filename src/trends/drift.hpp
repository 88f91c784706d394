#pragma once
#include <optional>
#include <vector>

#include "trends/track.hpp"

namespace platewright::trends {

/// How one point of a track stands to an earlier one.
struct Change {
    double hz = 0;
    double hz_sd = 0;   ///< from the spreads of both sessions
    double cents = 0;
    std::optional<double> mass_g;     ///< mass change (negative: wood taken), where both were weighed
    std::optional<double> hz_per_g;   ///< where mass changed by at least 0.2 g
};

struct TrackDrift {
    Track track;
    std::optional<Change> since_last;       ///< newest session against the one before it
    std::optional<Change> since_beginning;  ///< newest against the track's first
    std::vector<Change> steps;              ///< point i+1 against point i
};

/// Frequency against mass of one track, with the next grams' outlook.
struct Forecast {
    double hz_per_g = 0;      ///< slope near the present mass (positive: falls as wood goes)
    double hz_per_g_sd = 0;
    int sessions = 0;         ///< that it rests on
    double mass_g = 0;        ///< present mass
    double hz = 0;            ///< fitted at the present mass
    double residual_hz = 0;   ///< scatter about the line
};

/// A value with an 80 % interval.
struct Interval {
    double value = 0, low = 0, high = 0;
};

struct Drift {
    std::vector<TrackDrift> tracks;
    std::vector<std::optional<double>> ratio_5_to_2; ///< by session
    std::vector<std::optional<double>> moisture_pct; ///< equilibrium moisture by session's climate
};

Drift drift(const ledger::PlateHistory& history);

/// Nothing with fewer than three weighed sessions of the track, or where mass hardly changed.
/// Robust to one odd session.
std::optional<Forecast> forecast(const Track& track, const ledger::PlateHistory& history);

/// Where the frequency will be at a mass, and grams to take until a target frequency. Nothing for a
/// target that taking wood leads away from.
Interval hz_at(const Forecast& forecast, double mass_g);
std::optional<Interval> grams_to(const Forecast& forecast, double target_hz);

/// Equilibrium moisture content of wood in % (Hailwood–Horrobin; Wood Handbook FPL-GTR-190, eq. 4-5).
double equilibrium_moisture_pct(double temperature_c, double humidity_pct);

} // namespace platewright::trends
