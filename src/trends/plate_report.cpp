#include "trends/plate_report.hpp"

#include "trends/remarks.hpp"

namespace platewright::trends {

PlateReport report_on(const Question& question) {
    const ledger::PlateHistory& history = *question.history;
    PlateReport report;
    report.drift = drift(history);
    for (const TrackDrift& track : report.drift.tracks)
        report.forecasts.push_back(forecast(track.track, history));
    report.remarks = remarks(history, report.drift, report.forecasts, question.pass_g);
    report.goals = goals_of(history, question.comparison);
    std::vector<ledger::TargetRecord> targets;
    for (const Goal& goal : report.goals)
        targets.push_back({.number = goal.number, .frequency_hz = goal.hz});
    report.outlooks =
        target_outlooks(history, report.drift, report.forecasts, targets, question.pass_g);
    report.decision =
        decide({.history = &history,
                .session = question.session ? &history.sessions[*question.session] : nullptr,
                .ask_spot = question.ask_spot,
                .goals = report.goals,
                .outlooks = report.outlooks});
    return report;
}

} // namespace platewright::trends
