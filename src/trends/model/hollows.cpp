#include "trends/model/hollows.hpp"

#include "plate/plan/graduation.hpp"
#include "trends/review/map_review.hpp"
#include "trends/review/pass_review.hpp"

#include <algorithm>

namespace platewright::trends {
namespace {

/// What of the plan kept with a session was taken by the next: by the scales, all of it at most.
double share_done(const ledger::PlateHistory& history, std::size_t session) {
    const ledger::SessionHistory &before = history.sessions[session],
                                 &after = history.sessions[session + 1];
    const double pass_g = before.plan->pass_share * before.plan->wood_g;
    if (!before.session.mass_g || !after.session.mass_g || !(pass_g > 0.0))
        return 0.0;
    return std::clamp((*before.session.mass_g - *after.session.mass_g) / pass_g, 0.0, 1.0);
}

} // namespace

std::optional<std::size_t> graduation_of(const ledger::PlateHistory& history, std::size_t last) {
    std::optional<std::size_t> planned, called;
    for (std::size_t i = 0; i <= last && i < history.sessions.size(); ++i) {
        const ledger::SessionHistory& one = history.sessions[i];
        if (!planned && one.plan)
            planned = session_with_map(history, i);
        if (!called && one.session.stage == modes::Stage::graduated &&
            !one.thickness.readings.empty())
            called = i;
    }
    return planned && called ? std::max(planned, called) : planned ? planned : called;
}

Eigen::VectorXd hollows_of(const ledger::PlateHistory& history, const PlateStudy& study) {
    const auto graduated = graduation_of(history, study.now);
    if (!graduated || *graduated >= study.now)
        return {};
    const plate::PlateModel& model = *study.model;
    const auto& readings = history.sessions[*graduated].thickness.readings;
    if (*graduated > study.session || plate::fault_in(readings, model.form().outline))
        return {}; // the outline was corrected since: what was read then does not fit it
    const plate::ThicknessMap map(readings, model.form().outline);
    const Eigen::VectorXd graduation =
        model.thickness_at([&](plate::Point p) { return map.thickness_mm(p); });
    Eigen::VectorXd now = study.thickness_mm;
    for (std::size_t i = study.session; i < study.now; ++i)
        if (const auto& plan = history.sessions[i].plan)
            if (const auto pass = planned_pass(*plan, model, history.instrument.kind))
                now -= share_done(history, i) * pass->at_nodes();
    return plate::hollows_mm(model, graduation, now);
}

} // namespace platewright::trends
