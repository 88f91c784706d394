#include "base/interval.hpp"
#include "trends/air/conditions.hpp"
#include "trends/drift/drift.hpp"
#include "trends/drift/reach.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::trends {
namespace {

constexpr std::size_t k_newest = 60; // sessions that are enough for a slope
constexpr double k_least_mass_share = 0.01;

struct Weighed {
    std::vector<Point> points; // ln mass, ln frequency
    std::vector<std::size_t> sessions;
};

Weighed weighed_points(const Track& track, const ledger::PlateHistory& history, int shape) {
    Weighed found;
    std::optional<modes::Stage> before;
    for (const TrackPoint& point : track.points) {
        const ledger::SessionRecord& session = history.sessions.at(point.session).session;
        if (!session.mass_g || shape_of(history.plate.part, session.stage) != shape)
            continue;
        const bool is_marked = before && *before != session.stage;
        before = session.stage;
        found.points.push_back(
            {std::log(*session.mass_g), std::log(point.value.frequency_hz), is_marked});
        found.sessions.push_back(point.session);
    }
    if (found.points.size() > k_newest) {
        const auto old = static_cast<std::ptrdiff_t>(found.points.size() - k_newest);
        found.points.erase(found.points.begin(), found.points.begin() + old);
        found.sessions.erase(found.sessions.begin(), found.sessions.begin() + old);
    }
    return found;
}

/// The slope's deviation, as a normal one whose interval is that of Student's t: from three
/// sessions the scatter is hardly known, and may be small by chance (docs/decisions/024).
double slope_sd(const RobustLine& line, int sessions) {
    const int freedom = std::max(1, sessions - 2 - static_cast<int>(line.steps().size()));
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
    const Weighed weighed = weighed_points(track, history, shape);
    const std::optional<double> mass = present_mass_g(history, shape);
    const std::optional<RobustLine> line = RobustLine::fit(weighed.points);
    if (!line || !mass)
        return std::nullopt;
    const auto [light, heavy] = std::ranges::minmax(weighed.points, {}, &Point::x);
    if (heavy.x - light.x < k_least_mass_share)
        return std::nullopt;

    Forecast result;
    result.line = *line;
    result.sessions = static_cast<int>(weighed.points.size() - line->odd().size());
    result.mass_g = *mass;
    result.hz = std::exp(line->at(std::log(*mass)));
    result.hz_per_g = line->slope() * result.hz / *mass;
    result.hz_per_g_sd = slope_sd(*line, result.sessions) * result.hz / *mass;
    result.residual_hz = line->scatter() * result.hz;
    for (const std::size_t odd : line->odd())
        result.odd_sessions.push_back(weighed.sessions[odd]);
    for (const Step& step : line->steps())
        result.steps.push_back({weighed.sessions[step.before], weighed.sessions[step.before - 1],
                                step.size * result.hz});
    return result;
}

Interval hz_at(const Forecast& forecast, double mass_g) {
    if (!(mass_g > 0.0))
        throw std::invalid_argument{"a plate's mass is above 0"};
    const double x = std::log(mass_g);
    const Range range = forecast.line.predict(x, base::k_coverage);
    return {std::exp(forecast.line.at(x)), std::exp(range.low), std::exp(range.high)};
}

std::optional<Interval> grams_to(const Forecast& forecast, double target_hz) {
    if (!(target_hz > 0.0))
        throw std::invalid_argument{"a target frequency is above 0"};
    const double log_target = std::log(target_hz);
    const double away = log_target - std::log(forecast.hz);
    const double slope = forecast.line.slope();
    if (slope == 0.0 || away / slope > 0.0)
        return std::nullopt;
    const double tail = 0.5 * (1.0 - base::k_coverage);
    const double mass_then = forecast.mass_g * std::exp(away / slope);
    return Interval{forecast.mass_g - mass_then,
                    amount_to_reach(forecast.line, forecast.mass_g, log_target, tail),
                    amount_to_reach(forecast.line, forecast.mass_g, log_target, 1.0 - tail)};
}

} // namespace platewright::trends
