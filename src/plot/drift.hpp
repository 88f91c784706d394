#pragma once
#include "plot/chart.hpp"

#include <optional>

namespace platewright::plot {

enum class DriftAgainst { session, mass, day };
enum class DriftIn {
    hertz,
    cents // from the track's first session; 100 to the semitone
};

/// One session on the axis.
struct DriftSession {
    std::string label = {};
    std::string stage = {}; // of the work; empty: none given
    std::optional<double> mass_g = {};
    double day = 0.0; // since 1970-01-01, of the local calendar
};

/// One mode in one session.
struct DriftPoint {
    std::size_t session = 0; // index into DriftPicture::sessions
    double frequency_hz = 0.0;
    double spread_hz = 0.0; // tap to tap, one standard deviation; 0: unknown
};

/// The forecast at a mass still to come.
struct ForecastPoint {
    double mass_g = 0.0;
    double frequency_hz = 0.0;
    double low_hz = 0.0;
    double high_hz = 0.0;
};

struct DriftTrack {
    int name = 0; // 1, 2, 5; 0: a mode without a name
    std::string words = {};
    std::vector<DriftPoint> points = {};      // by session, ascending
    std::vector<ForecastPoint> forecast = {}; // by mass, descending
    std::optional<double> reference_hz = {};
};

struct DriftPicture {
    std::vector<DriftSession> sessions = {}; // in time
    std::vector<DriftTrack> tracks = {};
    DriftAgainst against = DriftAgainst::session;
    DriftIn in = DriftIn::hertz;
};

/// Where a session stands on the axis across; nothing for a session without a mass against mass.
std::optional<double> drift_across(const DriftPicture& picture, std::size_t session);

/// The tracks through the sessions. Named modes are bold with bars of two spreads and words at
/// their ends, others thin; where modes have names the picture is as high as those need, and other
/// modes within it are shown. Mass runs from heavy to light, as the work does; there the forecast
/// is shown. Sessions without a mass are left out of a chart against mass. A change of stage is a
/// signpost. Reference frequencies are dotted.
Chart drift_chart(const DriftPicture& picture, const Palette& palette);

} // namespace platewright::plot
