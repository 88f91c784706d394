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
    std::optional<double> humidity_pct = {};
    bool strays = false; // stands off the line of the others
};

/// One mode in one session.
struct DriftPoint {
    std::size_t session = 0; // index into DriftPicture::sessions
    double frequency_hz = 0.0;
    double doubt_hz = 0.0; // half its interval of 95 %, hold and hanging included; 0: unknown
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
    std::optional<double> goal_hz = {};
    std::vector<std::string> facts = {}; // what stands at its line's end
};

struct DriftPicture {
    std::vector<DriftSession> sessions = {}; // in time
    std::vector<DriftTrack> tracks = {};
    DriftAgainst against = DriftAgainst::session;
    DriftIn in = DriftIn::hertz;
    bool all_modes = false; // in one picture; else a strip for each that bears a name
};

/// Where a session stands on the axis across; nothing for a session without a mass against mass.
std::optional<double> drift_across(const DriftPicture& picture, std::size_t session);

/// Most of a mode's frequency that its strip shows, so that half a percent up and down, which
/// hanging a plate anew does, stays as high as 8 px in a strip of 100.
inline constexpr double k_strip_share = 0.16;

/// The tracks of modes with a name through the sessions, a strip each, in which a percent is as
/// high as in every other, and the goal (else the reference) stands at the same height; without
/// any, each strip lies about its own sessions. The interval of each session is a bar; below them
/// stands the air's humidity with the sessions that stand off. Against mass the work goes to the
/// right, and the forecast is a fan that begins at the newest mark. Sessions that lie above a strip
/// are counted in its figures; an axis of mass begins where the first that is seen in any strip
/// does (the others lead to every session). Where no mode has a name, or all modes are asked for,
/// they are in one picture as high as the named ones need, others thin. Sessions without a mass are
/// left out of a chart against mass. A change of stage is a signpost.
Chart drift_chart(const DriftPicture& picture, const Palette& palette);

/// The strip that the mode of this name stands in; nothing where it has none.
std::optional<std::size_t> drift_strip(const DriftPicture& picture, int name);

} // namespace platewright::plot
