#include "trends/drift/drift.hpp"

#include "base/interval.hpp"
#include "base/level.hpp"
#include "plate/thickness/thickness.hpp"
#include "trends/air/moisture.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/drift/robust_line.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/track/track.hpp"
#include "wording/language.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

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
        if (std::abs(*result.mass_g) >= k_least_grams)
            result.hz_per_g = result.hz / *result.mass_g;
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
    result.forecast = forecast(track, history);
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
        result.moisture_pct.push_back(moisture_pct_of(history.sessions[i].session));
    }
    for (const Track& track : tracks)
        result.tracks.push_back(drift_of(track, history));
    for (const TrackDrift& one : result.tracks)
        if (one.forecast) { // all of one mass
            result.told_from_g = one.forecast->mass_g;
            result.told_step_g = told_step_g(one.forecast->mass_g);
        }
    return result;
}

bool has_forecast(const Drift& drift) {
    return std::ranges::any_of(drift.tracks, [](const auto& one) { return !!one.forecast; });
}

const Change* step_into(const TrackDrift& drift, std::size_t session) {
    const auto& points = drift.track.points;
    const auto point = std::ranges::find(points, session, &TrackPoint::session);
    return point == points.end() || point == points.begin()
               ? nullptr
               : &drift.steps.at(static_cast<std::size_t>(point - points.begin()) - 1);
}

const TrackDrift* find_track(const Drift& drift, int number) {
    const auto found = std::ranges::find_if(drift.tracks, [number](const TrackDrift& one) {
        return one.track.name && one.track.name->number == number;
    });
    return found == drift.tracks.end() ? nullptr : &*found;
}

namespace {

constexpr std::size_t k_newest = 60;   // sessions that are enough for a slope
constexpr double k_least_share = 0.01; // of mass or thickness, over which a line can be drawn
// What the usual scatter of sessions is worth beside a plate's own (docs/decisions/055).
constexpr double k_usual_freedom = 2.0;

/// A track against what goes as a plate is worked, its mass or its thickness, in one shape.
struct LinePoints {
    std::vector<Point> points; // ln amount, ln frequency
    std::vector<std::size_t> sessions;
    std::vector<double> sds; // of ln frequency, as each session gives it, with its hanging

    /// Nothing where they allow none, or lie too near each other.
    [[nodiscard]] std::optional<RobustLine> line() const {
        if (points.empty())
            return std::nullopt;
        // The surest session's: one set over to another air is in doubt that the next one, tapped
        // in it, is not.
        std::optional<RobustLine> found =
            RobustLine::fit(points, {.usual_scatter = *std::ranges::min_element(sds),
                                     .usual_freedom = k_usual_freedom});
        if (!found)
            return std::nullopt;
        const auto [least, most] = std::ranges::minmax(points, {}, &Point::x);
        return most.x - least.x < k_least_share ? std::nullopt : found;
    }
};

/// `amount`: of a session by its index, where it is known.
template <class Amount>
LinePoints points_of(const Track& track, const ledger::PlateHistory& history, int shape,
                     const Amount& amount) {
    LinePoints found;
    std::optional<modes::Stage> before;
    for (const TrackPoint& point : track.points) {
        const modes::Stage stage = history.sessions.at(point.session).session.stage;
        const std::optional<double> known = amount(point.session);
        if (!known || shape_of(history.plate.part, stage) != shape)
            continue;
        const bool is_marked = before && *before != stage;
        before = stage;
        found.points.push_back({std::log(*known), std::log(point.value.frequency_hz), is_marked});
        found.sessions.push_back(point.session);
        found.sds.push_back(session_sd_hz(point.value) / point.value.frequency_hz);
    }
    if (found.points.size() > k_newest) {
        const auto old = static_cast<std::ptrdiff_t>(found.points.size() - k_newest);
        found.points.erase(found.points.begin(), found.points.begin() + old);
        found.sessions.erase(found.sessions.begin(), found.sessions.begin() + old);
        found.sds.erase(found.sds.begin(), found.sds.begin() + old);
    }
    return found;
}

/// How much of `present` must go until the target is measured; nothing where that leads away.
std::optional<Interval> amount_to(const RobustLine& line, double present, double target_hz) {
    if (!(target_hz > 0.0))
        throw std::invalid_argument{"a target frequency is above 0"};
    const double log_target = std::log(target_hz);
    const double away = log_target - line.at(std::log(present));
    if (line.slope() == 0.0 || away / line.slope() > 0.0)
        return std::nullopt;
    const double tail = 0.5 * (1.0 - base::k_coverage);
    return Interval{present * (1.0 - std::exp(away / line.slope())),
                    amount_to_reach(line, present, log_target, tail),
                    amount_to_reach(line, present, log_target, 1.0 - tail)};
}

/// The slope's deviation, as a normal one whose interval is that of Student's t: from three
/// sessions the scatter is hardly known, and may be small by chance (docs/decisions/024).
double slope_sd(const RobustLine& line, int sessions) {
    const int of_these = std::max(1, sessions - 2 - static_cast<int>(line.steps().size()));
    const double freedom = k_usual_freedom + of_these;
    return line.slope_sd() * base::plus_minus(1.0, freedom) / base::plus_minus(1.0);
}

// The plate's mass as last weighed, in the shape it has now.
std::optional<double> present_mass_g(const ledger::PlateHistory& history, int shape) {
    for (auto it = history.sessions.rbegin(); it != history.sessions.rend(); ++it)
        if (it->session.mass_g && shape_of(history.plate.part, it->session.stage) == shape)
            return it->session.mass_g;
    return std::nullopt;
}

} // namespace

std::optional<Forecast> forecast(const Track& track, const ledger::PlateHistory& history) {
    if (history.sessions.empty() || history.plate.part == modes::Part::body)
        return std::nullopt;
    const int shape = shape_of(history.plate.part, history.sessions.back().session.stage);
    const LinePoints weighed = points_of(track, history, shape, [&](std::size_t session) {
        return history.sessions[session].session.mass_g;
    });
    const std::optional<double> mass = present_mass_g(history, shape);
    const std::optional<RobustLine> line = weighed.line();
    if (!line || !mass)
        return std::nullopt;

    Forecast result;
    result.line = *line;
    result.sessions = static_cast<int>(weighed.points.size() - line->odd().size());
    result.mass_g = *mass;
    result.hz = std::exp(line->at(std::log(*mass)));
    result.hz_per_g = line->slope() * result.hz / *mass;
    result.hz_per_g_sd = slope_sd(*line, result.sessions) * result.hz / *mass;
    for (const std::size_t odd : line->odd())
        result.odd_sessions.push_back(weighed.sessions[odd]);
    for (const Step& step : line->steps())
        result.steps.push_back({weighed.sessions[step.before], weighed.sessions[step.before - 1],
                                step.size * result.hz});
    const auto on = [&result](double grams) {
        return result.mass_g > grams ? std::optional(hz_at(result, result.mass_g - grams))
                                     : std::nullopt;
    };
    result.gram_on = on(1.0);
    result.step_on = on(told_step_g(result.mass_g));
    return result;
}

std::string told_step_words(const Drift& drift) {
    const std::string step = wording::figure(drift.told_step_g, 0);
    return drift.told_from_g
               ? wording::say("{} g less than {} g", step, wording::figure(*drift.told_from_g, 1))
               : wording::say("{} g less", step);
}

double told_step_g(double mass_g) {
    constexpr double k_steps_of_a_plate = 30.0; // at least; a violin's plates lie well above 30 g
    return std::max(1.0, std::pow(10.0, std::floor(std::log10(mass_g / k_steps_of_a_plate))));
}

Interval hz_at(const Forecast& forecast, double mass_g) {
    if (!(mass_g > 0.0))
        throw std::invalid_argument{"a plate's mass is above 0"};
    const double x = std::log(mass_g);
    const Range range = forecast.line.predict(x, base::k_coverage);
    return {std::exp(forecast.line.at(x)), std::exp(range.low), std::exp(range.high)};
}

std::optional<Interval> grams_to(const Forecast& forecast, double target_hz) {
    return amount_to(forecast.line, forecast.mass_g, target_hz);
}

std::vector<std::optional<double>> mean_thickness_mm(const ledger::PlateHistory& history) {
    std::vector<std::optional<double>> means(history.sessions.size());
    if (!history.form)
        return means;
    const auto outline = outline_of(*history.form);
    if (!outline)
        return means;
    for (std::size_t i = 0; i < means.size(); ++i) {
        const auto& readings = history.sessions[i].thickness.readings;
        if (!readings.empty() && !plate::fault_in(readings, *outline))
            means[i] = plate::describe(plate::ThicknessMap(readings, *outline), *outline).mean_mm;
    }
    return means;
}

std::optional<ThicknessForecast>
forecast_by_thickness(const Track& track, const ledger::PlateHistory& history,
                      std::span<const std::optional<double>> mean_thickness_mm) {
    if (mean_thickness_mm.size() != history.sessions.size())
        throw std::invalid_argument{"one thickness a session"};
    if (history.sessions.empty())
        return std::nullopt;
    const int shape = shape_of(history.plate.part, history.sessions.back().session.stage);
    const LinePoints mapped = points_of(
        track, history, shape, [&](std::size_t session) { return mean_thickness_mm[session]; });
    const std::optional<RobustLine> line = mapped.line();
    if (!line)
        return std::nullopt;
    return ThicknessForecast{*mean_thickness_mm[mapped.sessions.back()], *line};
}

std::optional<Interval> mm_to(const ThicknessForecast& forecast, double target_hz) {
    return amount_to(forecast.line, forecast.mm, target_hz);
}

} // namespace platewright::trends
