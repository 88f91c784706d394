#pragma once
#include "trends/drift/robust_line.hpp"
#include "trends/track/track.hpp"

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace platewright::trends {

/// What the air alone can have done between two sessions, once the plate had settled.
struct AirEffect {
    double moisture_pct = 0; ///< change of equilibrium moisture
    Range cents;             ///< within which it can have moved the mode
};

/// How one point of a track stands to an earlier one.
struct Change {
    double hz = 0;
    double hz_sd = 0; ///< from the spreads of both sessions, hold and hanging included
    double cents = 0;
    std::optional<double> mass_g;   ///< mass change (negative: wood taken), where both were weighed
    std::optional<double> hz_per_g; ///< where mass changed by at least 0.2 g
    std::optional<AirEffect> air;   ///< where both sessions know their air; the rest is as measured
};

/// Where a track's level stepped and stayed, beyond what the mass explains.
struct ForecastStep {
    std::size_t session = 0; ///< the first after it, index into PlateHistory::sessions
    std::size_t last = 0;    ///< and the last before it
    double hz = 0;           ///< by which
};

/// A value with its interval (base::k_coverage).
struct Interval {
    double value = 0, low = 0, high = 0;
};

/// Frequency against mass of one track, with the next grams' outlook. The line is one of
/// logarithms, f = c·m^p: thinning moves every mode of a shape by about a power of its mass.
struct Forecast {
    double hz_per_g = 0; ///< slope near the present mass (positive: falls as wood goes)
    double hz_per_g_sd = 0;
    int sessions = 0;                      ///< that it rests on
    double mass_g = 0;                     ///< present mass
    double hz = 0;                         ///< fitted at the present mass
    RobustLine line;                       ///< ln f (Hz) against ln m (g)
    std::vector<std::size_t> odd_sessions; ///< set aside, by index into PlateHistory::sessions
    std::vector<ForecastStep> steps;       ///< of the line: its level is that of after the last
    /// Where it will be measured a gram, and a step as it is told (told_step_g), less than now;
    /// nothing of a plate that has no such amount to lose.
    std::optional<Interval> gram_on, step_on;
};

/// A track, how it moved, and where it goes from here.
struct TrackDrift {
    Track track;
    std::optional<Change> since_last;      ///< newest session against the one before it
    std::optional<Change> since_beginning; ///< newest against the track's first
    std::vector<Change> steps;             ///< point i+1 against point i
    std::optional<Forecast> forecast;      ///< forecast() of the track
};

struct Drift {
    std::vector<TrackDrift> tracks;
    double told_step_g = 1;                          ///< by which its forecasts are told
    std::optional<double> told_from_g;               ///< the mass that step is counted from
    std::vector<std::optional<double>> ratio_5_to_2; ///< by session
    std::vector<std::optional<double>> moisture_pct; ///< equilibrium moisture by session's climate
};

Drift drift(const ledger::PlateHistory& history);

/// The step into a session from the track's point before it; or null.
const Change* step_into(const TrackDrift& drift, std::size_t session);

/// Whether any of its tracks has a forecast.
bool has_forecast(const Drift& drift);

/// Of the track that bears this number; or null.
const TrackDrift* find_track(const Drift& drift, int number);

/// Of the forecasts by told_step_g: "1 g less than 93.4 g". The plate may have been weighed since
/// it was tapped last, so what is less is said with its mass.
std::string told_step_words(const Drift& drift);

/// Nothing with fewer than three weighed sessions of the track, or where mass changed by less than
/// 1 %, and nothing of a closed body, whose mass is not its modes' affair. A top's sessions from
/// before its f-holes were cut, or its bar fitted, are left out after it, and all but the
/// newest 60. Level from the newest sessions, slope from all; robust to odd sessions and to lasting
/// steps (RobustLine), which are named; a change of stage makes a step likelier. Over simulated
/// histories the 95 % intervals cover 92 to 98 %.
std::optional<Forecast> forecast(const Track& track, const ledger::PlateHistory& history);

/// The grams by which a forecast is told: the power of ten near a hundredth of the plate, 1 g of a
/// violin's and 10 g of a double bass's, of which a single gram says nothing. Never below 1 g.
double told_step_g(double mass_g);

/// Where the frequency will be measured at a mass (> 0), and grams to take until a target frequency
/// (> 0) is measured, each with its interval. The interval of grams holds all g for which the
/// target lies within hz_at(mass - g); it begins at 0 where the target may be reached already, and
/// ends at the whole plate's mass where it has no end. Nothing for a target that taking wood leads
/// away from.
Interval hz_at(const Forecast& forecast, double mass_g);
std::optional<Interval> grams_to(const Forecast& forecast, double target_hz);

/// Frequency against the mean thickness of the caliper readings, as Forecast is against mass.
struct ThicknessForecast {
    double mm = 0;   ///< present mean thickness
    RobustLine line; ///< ln f (Hz) against ln thickness (mm)
};

/// Mean thickness by session, from its map; nothing where it has none, or the plate's shape is not
/// known. Cost: some 50 ms a map.
std::vector<std::optional<double>> mean_thickness_mm(const ledger::PlateHistory& history);

/// As forecast(); at least three mapped sessions of the track whose thickness differs by 1 %.
std::optional<ThicknessForecast>
forecast_by_thickness(const Track& track, const ledger::PlateHistory& history,
                      std::span<const std::optional<double>> mean_thickness_mm);
/// Millimetres of mean thickness to take until the target is measured, with its interval, as
/// grams_to().
std::optional<Interval> mm_to(const ThicknessForecast& forecast, double target_hz);

} // namespace platewright::trends
