#include "trends/plate_report.hpp"

#include "base/clock.hpp"
#include "trends/air/moisture.hpp"
#include "trends/decision/outlook.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/review/map_review.hpp"
#include "trends/review/mass_check.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace platewright::trends {
namespace {

using wording::say;

// A smaller change of moisture moves a mode by less than hanging the plate anew.
constexpr double k_noticeable_moisture = 0.5;
// Some eight per cent of humidity: it can do what a pass does.
constexpr double k_misleading_moisture = 1.5;

std::string date_of(const ledger::PlateHistory& history, std::size_t session) {
    return base::local_date(history.sessions[session].session.begun);
}

// The nearest earlier session whose air is known.
std::optional<std::size_t> earlier_air(const ledger::PlateHistory& history, std::size_t session) {
    for (std::size_t i = session; i-- > 0;)
        if (air_of(history.sessions[i].session))
            return i;
    return std::nullopt;
}

// What has become of the air since the nearest earlier session whose air is known.
struct AirChange {
    std::size_t since = 0;
    double moisture_now = 0, moisture_before = 0; // in per cent of the wood, once it has settled
    Range cents;
    double moisture() const { return std::abs(moisture_now - moisture_before); }
};

std::optional<AirChange> air_change(const ledger::PlateHistory& history) {
    if (history.sessions.empty())
        return std::nullopt;
    const std::size_t newest = history.sessions.size() - 1;
    const std::optional<Air> now = air_of(history.sessions[newest].session);
    const std::optional<std::size_t> earlier = earlier_air(history, newest);
    if (!now || !earlier)
        return std::nullopt;
    const Air before = *air_of(history.sessions[*earlier].session);
    return AirChange{*earlier, equilibrium_moisture_pct(*now), equilibrium_moisture_pct(before),
                     cents_from_air(before, *now, k_any_response)};
}

void add_air_remark(const ledger::PlateHistory& history, std::vector<std::string>& said) {
    const auto change = air_change(history);
    if (!change || change->moisture() < k_noticeable_moisture)
        return;
    said.push_back(say("The air has changed since {}: wood settles at {} % moisture now, at {} % "
                       "then. That alone can move a mode by {} to {} cents once the plate has "
                       "settled; all figures are as measured.",
                       date_of(history, change->since), wording::figure(change->moisture_now, 1),
                       wording::figure(change->moisture_before, 1),
                       wording::signed_figure(change->cents.low, 0),
                       wording::signed_figure(change->cents.high, 0)));
}

// How an odd session's air differed from the one before it, where that can be why.
std::string reason_for(const ledger::PlateHistory& history, std::size_t session) {
    const std::optional<Air> now = air_of(history.sessions[session].session);
    const std::optional<std::size_t> earlier = earlier_air(history, session);
    if (!now || !earlier)
        return {};
    const double change = equilibrium_moisture_pct(*now) -
                          equilibrium_moisture_pct(*air_of(history.sessions[*earlier].session));
    if (std::abs(change) < k_noticeable_moisture)
        return {};
    return " " + std::string(change > 0 ? say("The air was wetter then, which may be why.")
                                        : say("The air was drier then, which may be why."));
}

void remark_on_odd_sessions(const ledger::PlateHistory& history, const Drift& drift,
                            std::vector<std::string>& said) {
    std::map<std::size_t, std::string> modes_by_session;
    for (const TrackDrift& one : drift.tracks) {
        if (!one.forecast || !one.track.name)
            continue;
        for (const std::size_t odd : one.forecast->odd_sessions) {
            std::string& modes = modes_by_session[odd];
            modes += (modes.empty() ? "" : ", ") + modes::mode_text(one.track.name->number);
        }
    }
    for (const auto& [session, modes] : modes_by_session)
        said.push_back(say("The session of {} stands off the line of the others and counts for "
                           "little in the forecast of {}.",
                           date_of(history, session), modes) +
                       reason_for(history, session));
}

void remark_on_steps(const ledger::PlateHistory& history, const Drift& drift,
                     std::vector<std::string>& said) {
    for (const TrackDrift& one : drift.tracks) {
        if (!one.forecast || !one.track.name)
            continue;
        for (const ForecastStep& step : one.forecast->steps)
            said.push_back(say("{} stepped by {} Hz between {} and {} and stayed there, more than "
                               "the wood taken explains (a bar trimmed or glued anew, purfling, "
                               "varnish?): its forecast counts from after the step.",
                               modes::mode_text(one.track.name->number),
                               wording::signed_figure(step.hz, 1), date_of(history, step.last),
                               date_of(history, step.session)));
    }
}

void remark_on_missing_modes(const ledger::PlateHistory& history, const Drift& drift,
                             std::vector<std::string>& said) {
    const std::size_t newest = history.sessions.size() - 1;
    if (history.sessions[newest].modes.empty())
        return;
    for (const TrackDrift& one : drift.tracks)
        if (one.track.name && one.track.points.back().session != newest)
            said.push_back(say("{} was not found in the newest session; it was last on {}.",
                               modes::mode_text(one.track.name->number),
                               date_of(history, one.track.points.back().session)));
}

} // namespace

std::vector<std::string> remarks(const ledger::PlateHistory& history, const Drift& drift) {
    std::vector<std::string> said;
    if (history.sessions.empty())
        return said;
    for (std::string& remark : remarks_on_masses(history))
        said.push_back(std::move(remark));
    add_air_remark(history, said);
    remark_on_odd_sessions(history, drift, said);
    remark_on_steps(history, drift, said);
    remark_on_missing_modes(history, drift, said);
    return said;
}

std::string air_doubt(const ledger::PlateHistory& history) {
    const auto change = air_change(history);
    if (!change || change->moisture() < k_misleading_moisture)
        return {};
    return say("The air has changed since {}: that alone can move a mode by {} to {} cents. Let "
               "the plate settle, or compare in one air (F2, K).",
               date_of(history, change->since), wording::signed_figure(change->cents.low, 0),
               wording::signed_figure(change->cents.high, 0));
}

namespace {

/// Of the kept targets that the next pass may overshoot; the decision says so of its own.
std::vector<std::string> warnings_beside(const PlateReport& report,
                                         const ledger::PlateHistory& history) {
    std::vector<std::string> warnings;
    if (history.targets.empty())
        return warnings;
    for (const TargetOutlook& outlook : report.outlooks)
        if (!is_of_wood(report.decision.advice) || outlook.number != report.decision.number)
            if (std::string warning = warning_of(outlook); !warning.empty())
                warnings.push_back(std::move(warning));
    return warnings;
}

} // namespace

PlateReport report_on(const Question& question) {
    const ledger::PlateHistory& history = *question.history;
    PlateReport report;
    report.drift = drift(history);
    report.goals = goals_of(history, question.comparison);
    report.outlooks = target_outlooks(history, report.drift, report.goals, question.pass_g);
    if (question.foresight != nullptr && question.session)
        take_word_of_model(report.outlooks, report.goals, history.sessions[*question.session],
                           *question.foresight);
    report.decision =
        decide({.history = &history,
                .session = question.session ? &history.sessions[*question.session] : nullptr,
                .ask_spot = question.ask_spot,
                .goals = report.goals,
                .outlooks = report.outlooks,
                .foresight = question.foresight});
    report.remarks = warnings_beside(report, history);
    for (std::string& remark : remarks(history, report.drift))
        report.remarks.push_back(std::move(remark));
    return report;
}

namespace {

/// How much of the mean thickness is to go.
void tell_thickness(const ledger::PlateHistory& history, PlateReport& report) {
    if (report.outlooks.empty())
        return;
    const auto thickness = mean_thickness_mm(history);
    for (TargetOutlook& outlook : report.outlooks)
        if (const TrackDrift* drift = find_track(report.drift, outlook.number))
            if (const auto f = forecast_by_thickness(drift->track, history, thickness))
                outlook.mm = mm_to(*f, outlook.target_hz);
}

PlateReport report_by_model(Question question) {
    PlateReport report = report_on(question);
    const ledger::PlateHistory& history = *question.history;
    if (!asks_model(report.decision.advice) || !session_with_map(history, *question.session))
        return report;
    const auto study = study_plate(history, *question.session);
    if (!study)
        return report;
    const NextPass next = next_pass(*study, report.goals, history.instrument.kind);
    question.foresight = &next.foresight;
    return report_on(question);
}

} // namespace

PlateReport report_with_model(const Question& question) {
    PlateReport report = report_by_model(question);
    tell_thickness(*question.history, report);
    return report;
}

} // namespace platewright::trends
