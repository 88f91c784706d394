#include "trends/plate_report.hpp"

#include "trends/decision/next_pass.hpp"
#include "trends/remarks.hpp"
#include "trends/review/map_review.hpp"

#include <utility>

namespace platewright::trends {
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
    for (const TrackDrift& track : report.drift.tracks)
        report.forecasts.push_back(forecast(track.track, history));
    report.goals = goals_of(history, question.comparison);
    std::vector<ledger::TargetRecord> targets;
    for (const Goal& goal : report.goals)
        targets.push_back({.number = goal.number, .frequency_hz = goal.hz});
    report.outlooks =
        target_outlooks(history, report.drift, report.forecasts, targets, question.pass_g);
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
    for (std::string& remark : remarks(history, report.drift, report.forecasts))
        report.remarks.push_back(std::move(remark));
    return report;
}

PlateReport report_with_model(Question question) {
    PlateReport report = report_on(question);
    const ledger::PlateHistory& history = *question.history;
    if (!is_of_wood(report.decision.advice) || !session_with_map(history, *question.session))
        return report;
    const auto study = study_plate(history, *question.session);
    if (!study)
        return report;
    const NextPass next = next_pass(*study, report.goals, history.instrument.kind);
    question.foresight = &next.foresight;
    return report_on(question);
}

} // namespace platewright::trends
