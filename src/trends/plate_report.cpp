#include "trends/plate_report.hpp"

#include "trends/map_review.hpp"
#include "trends/next_pass.hpp"
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
                .outlooks = report.outlooks,
                .foresight = question.foresight});
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
