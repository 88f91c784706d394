#include "trends/decision/outlook.hpp"

#include "base/interval.hpp"
#include "base/stats.hpp"
#include "plate/thickness/thickness.hpp"
#include "trends/air/conditions.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/reach.hpp"
#include "trends/drift/session_spread.hpp"
#include "trends/model/plate_form.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_outside = 0.5 * (1.0 - base::k_coverage); // either side of an interval
constexpr double k_unsafe = 0.10;      // the chance to go beyond a target that a safe pass leaves
constexpr double k_least_share = 0.01; // of thickness, over which a line can be drawn
constexpr double k_worth_a_word = 0.2;

double usual_pass_g(const ledger::PlateHistory& history) {
    constexpr std::size_t k_newest = 3;
    std::vector<double> passes;
    std::optional<double> after;
    for (auto it = history.sessions.rbegin(); it != history.sessions.rend(); ++it) {
        const auto& mass = it->session.mass_g;
        if (mass && after && *mass > *after && passes.size() < k_newest)
            passes.push_back(*mass - *after);
        if (mass)
            after = mass;
    }
    return passes.empty() ? 1.0 : base::median(passes);
}

/// What has come off while the track's sessions of the plate's present shape were weighed.
double seen_to_go_g(const Track& track, const ledger::PlateHistory& history, double now_g) {
    const auto shape_in = [&](const ledger::SessionHistory& one) {
        return shape_of(history.plate.part, one.session.stage);
    };
    double heaviest_g = now_g;
    for (const TrackPoint& point : track.points)
        if (const ledger::SessionHistory& one = history.sessions[point.session];
            one.session.mass_g && shape_in(one) == shape_in(history.sessions.back()))
            heaviest_g = std::max(heaviest_g, *one.session.mass_g);
    return heaviest_g - now_g;
}

} // namespace

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
    const modes::Part part = history.plate.part;
    const int shape = shape_of(part, history.sessions.back().session.stage);
    std::vector<Point> points;
    std::optional<modes::Stage> before;
    ThicknessForecast result;
    for (const TrackPoint& point : track.points) {
        const auto& mm = mean_thickness_mm[point.session];
        if (!mm || shape_of(part, history.sessions[point.session].session.stage) != shape)
            continue;
        const modes::Stage stage = history.sessions[point.session].session.stage;
        points.push_back(
            {std::log(*mm), std::log(point.value.frequency_hz), before && *before != stage});
        before = stage;
        result.mm = *mm;
    }
    const std::optional<RobustLine> line = RobustLine::fit(points);
    if (!line)
        return std::nullopt;
    const auto [thin, thick] = std::ranges::minmax(points, {}, &Point::x);
    if (thick.x - thin.x < k_least_share)
        return std::nullopt;
    result.line = *line;
    result.sessions = static_cast<int>(points.size() - line->odd().size());
    result.hz = std::exp(line->at(std::log(result.mm)));
    result.hz_per_mm = line->slope() * result.hz / result.mm;
    result.hz_per_mm_sd = line->slope_sd() * result.hz / result.mm;
    return result;
}

std::optional<Interval> mm_to(const ThicknessForecast& forecast, double target_hz) {
    if (!(target_hz > 0.0))
        throw std::invalid_argument{"a target frequency is above 0"};
    const double log_target = std::log(target_hz), away = log_target - std::log(forecast.hz);
    const double slope = forecast.line.slope();
    if (slope == 0.0 || away / slope > 0.0)
        return std::nullopt;
    return Interval{forecast.mm * (1.0 - std::exp(away / slope)),
                    amount_to_reach(forecast.line, forecast.mm, log_target, k_outside),
                    amount_to_reach(forecast.line, forecast.mm, log_target, 1.0 - k_outside)};
}

std::vector<TargetOutlook> target_outlooks(const ledger::PlateHistory& history, const Drift& drift,
                                           std::span<const std::optional<Forecast>> forecasts,
                                           std::span<const ledger::TargetRecord> targets,
                                           std::optional<double> pass_g) {
    std::vector<TargetOutlook> outlooks;
    for (const ledger::TargetRecord& target : targets) {
        TargetOutlook one{.number = target.number, .target_hz = target.frequency_hz};
        one.pass_g = pass_g.value_or(usual_pass_g(history));
        for (std::size_t i = 0; i < drift.tracks.size(); ++i) {
            const Track& track = drift.tracks[i].track;
            if (!track.name || track.name->number != target.number)
                continue;
            one.now_hz = track.points.back().value.frequency_hz;
            const std::optional<Forecast>& f = forecasts[i];
            if (!f)
                continue;
            one.per_gram = PerGram{f->hz_per_g, f->hz_per_g_sd};
            one.grams = grams_to(*f, target.frequency_hz);
            const bool falls = f->line.slope() > 0.0;
            const double beyond =
                std::log(target.frequency_hz) + (falls ? -k_hanging_anew : k_hanging_anew);
            one.passed = falls ? std::log(f->hz) < beyond : std::log(f->hz) > beyond;
            // A line is followed no further than it is long: of three sessions two grams apart one
            // said that 28 g were safe (bench_decides, seed 2005).
            one.safe_g = std::min(amount_to_reach(f->line, f->mass_g, beyond, k_unsafe),
                                  seen_to_go_g(track, history, f->mass_g));
            if (one.pass_g < f->mass_g)
                one.past_it = chance_past(f->line, f->mass_g - one.pass_g, beyond);
        }
        outlooks.push_back(one);
    }
    return outlooks;
}

void take_word_of_model(TargetOutlook& o, const FadingPerGram& there, const modes::Mode& mode) {
    const WayToGoal way = way_to_goal(mode, o.target_hz, there.over_wood, there.wood_g);
    o.by_model = true;
    // It is told by the next session, which hangs the plate anew once more.
    Margin next = way.beyond;
    next.sd_hz = std::hypot(next.sd_hz, k_hold_share * mode.frequency_hz);
    o.past_it = chance_below(next, there.over(o.pass_g), o.pass_g);
    o.safe_g = way.safe_g;
    o.grams = way.grams;
    o.next_g = way.pass_g;
}

std::string warning_of(const TargetOutlook& o) {
    const std::string mode = modes::mode_text(o.number);
    if (o.passed)
        return say("{} is beyond its target of {} Hz already; more wood off leads further away.",
                   mode, figure(o.target_hz, 1));
    if (!o.past_it || *o.past_it < k_worth_a_word)
        return {};
    return say(
        "A pass of {} g would take {} beyond its target of {} Hz with a chance of {} %: wood "
        "taken off can't be put back.",
        figure(o.pass_g, 1), mode, figure(o.target_hz, 1), figure(100.0 * *o.past_it, 0));
}

} // namespace platewright::trends
