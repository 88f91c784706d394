#include "report/pictures.hpp"

#include <algorithm>

#include "base/clock.hpp"

namespace platewright::report {
namespace {

constexpr double k_ms_a_day = 86'400'000.0;

plot::DriftSession drift_session(const ledger::SessionRecord& session) {
    return {.label = base::local_date(session.begun),
            .stage = std::string(modes::to_text(session.stage)),
            .mass_g = session.mass_g,
            .day = static_cast<double>(session.begun.ms_since_epoch) / k_ms_a_day};
}

std::vector<plot::ForecastPoint> forecast_points(const trends::Forecast& forecast, double ahead_g) {
    constexpr int steps = 12;
    std::vector<plot::ForecastPoint> points;
    for (int i = 0; i <= steps; ++i) {
        const double mass = forecast.mass_g - ahead_g * i / steps;
        const trends::Interval hz = trends::hz_at(forecast, mass);
        points.push_back({.mass_g = mass, .frequency_hz = hz.value, .low_hz = hz.low, .high_hz = hz.high});
    }
    return points;
}

} // namespace

plot::DriftPicture drift_picture(const ledger::PlateHistory& history, const trends::Drift& drift,
                                 std::span<const std::optional<trends::Forecast>> forecasts,
                                 const std::optional<trends::Comparison>& comparison, double ahead_g) {
    plot::DriftPicture picture;
    for (const ledger::SessionHistory& session : history.sessions)
        picture.sessions.push_back(drift_session(session.session));
    for (std::size_t i = 0; i < drift.tracks.size(); ++i) {
        const trends::Track& track = drift.tracks[i].track;
        plot::DriftTrack drawn;
        if (track.name) {
            drawn.name = track.name->number;
            drawn.words = modes::mode_text(track.name->number);
        }
        for (const trends::TrackPoint& point : track.points)
            drawn.points.push_back({.session = point.session,
                                    .frequency_hz = point.value.frequency_hz,
                                    .spread_hz = point.value.spread_hz});
        if (i < forecasts.size() && forecasts[i])
            drawn.forecast = forecast_points(*forecasts[i], ahead_g);
        if (comparison && track.name)
            for (const trends::ComparedMode& mode : comparison->modes)
                if (mode.number == track.name->number && mode.reference)
                    drawn.reference_hz = mode.reference->frequency_hz;
        picture.tracks.push_back(std::move(drawn));
    }
    return picture;
}

plot::SpectrumLine spectrum_line(const modes::Spectrum& spectrum, std::string name) {
    plot::SpectrumLine line{.points = {}, .name = std::move(name)};
    line.points.reserve(spectrum.level_dbfs.size());
    for (std::size_t i = 0; i < spectrum.level_dbfs.size(); ++i)
        line.points.push_back({static_cast<double>(i) * spectrum.step_hz, static_cast<double>(spectrum.level_dbfs[i])});
    return line;
}

std::vector<plot::ModePost> mode_posts(std::span<const modes::NamedMode> modes) {
    std::vector<plot::ModePost> posts;
    for (const modes::NamedMode& named : modes)
        if (named.name)
            posts.push_back({.frequency_hz = named.mode.frequency_hz,
                             .name = named.name->number,
                             .words = modes::mode_text(named.name->number)});
    return posts;
}

} // namespace platewright::report
