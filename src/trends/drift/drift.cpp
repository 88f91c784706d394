#include "trends/drift/drift.hpp"

#include "base/level.hpp"
#include "trends/air/moisture.hpp"
#include "trends/drift/session_spread.hpp"

#include <cmath>

namespace platewright::trends {
namespace {

constexpr double k_least_grams =
    0.2; // below this a kitchen scale's last digit decides the quotient

std::optional<int> number_of(const Track& track) {
    return track.name ? std::optional{track.name->number} : std::nullopt;
}

Change change(const Track& track, const TrackPoint& from, const TrackPoint& to,
              const ledger::PlateHistory& history) {
    const ledger::SessionRecord& before = history.sessions[from.session].session;
    const ledger::SessionRecord& now = history.sessions[to.session].session;
    Change result;
    result.hz = to.value.frequency_hz - from.value.frequency_hz;
    result.hz_sd = difference_sd_hz(from.value, to.value);
    result.cents = base::cents(to.value.frequency_hz, from.value.frequency_hz);
    if (before.mass_g && now.mass_g) {
        result.mass_g = *now.mass_g - *before.mass_g;
        if (std::abs(*result.mass_g) >= k_least_grams) {
            result.hz_per_g = result.hz / *result.mass_g;
            result.cents_per_g = result.cents / *result.mass_g;
        }
    }
    const std::optional<Air> air_before = air_of(before), air_now = air_of(now);
    if (air_before && air_now)
        result.air =
            AirEffect{equilibrium_moisture_pct(*air_now) - equilibrium_moisture_pct(*air_before),
                      cents_from_air(*air_before, *air_now, response_of(number_of(track)))};
    return result;
}

TrackDrift drift_of(Track track, const ledger::PlateHistory& history) {
    TrackDrift result;
    for (std::size_t i = 1; i < track.points.size(); ++i)
        result.steps.push_back(change(track, track.points[i - 1], track.points[i], history));
    const std::size_t newest = history.sessions.size() - 1;
    if (!result.steps.empty() && track.points.back().session == newest) {
        if (track.points[track.points.size() - 2].session + 1 == newest)
            result.since_last = result.steps.back();
        result.since_beginning = change(track, track.points.front(), track.points.back(), history);
    }
    result.track = std::move(track);
    return result;
}

std::vector<std::optional<double>> frequencies_of(const Track* track, std::size_t sessions) {
    std::vector<std::optional<double>> by_session(sessions);
    if (track != nullptr)
        for (const TrackPoint& point : track->points)
            by_session[point.session] = point.value.frequency_hz;
    return by_session;
}

} // namespace

Drift drift(const ledger::PlateHistory& history) {
    Drift result;
    const std::vector<Track> tracks = follow(history);
    const auto ring = frequencies_of(find_track(tracks, 5), history.sessions.size());
    const auto cross = frequencies_of(find_track(tracks, 2), history.sessions.size());
    for (std::size_t i = 0; i < history.sessions.size(); ++i) {
        const auto &upper = ring[i], &lower = cross[i];
        result.ratio_5_to_2.push_back(upper && lower ? std::optional{*upper / *lower}
                                                     : std::nullopt);
        const std::optional<Air> air = air_of(history.sessions[i].session);
        result.moisture_pct.push_back(air ? std::optional{equilibrium_moisture_pct(*air)}
                                          : std::nullopt);
    }
    for (const Track& track : tracks)
        result.tracks.push_back(drift_of(track, history));
    return result;
}

} // namespace platewright::trends
