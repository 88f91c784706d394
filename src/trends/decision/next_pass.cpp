#include "trends/decision/next_pass.hpp"

#include "trends/model/measure_next.hpp"

namespace platewright::trends {

NextPass next_pass(const PlateStudy& study, std::span<const Goal> goals, modes::InstrumentKind kind,
                   std::optional<Air> goals_air) {
    PlanRequest request;
    request.limits = usual_limits(kind);
    request.wish_air = goals_air;
    for (const Goal& goal : goals)
        request.wishes.push_back({goal.number, goal.hz});
    auto answered = answer(study, request);
    if (!answered)
        return {.plan = {}, .no_plan = answered.fault().what, .foresight = {}};
    NextPass next{std::make_shared<const PlanAnswer>(*std::move(answered)), {}, {}};
    const plate::Plan& plan = next.plan->plan;
    PassForesight& foresight = next.foresight;
    foresight.goals.assign(goals.begin(), goals.end());
    foresight.wood_g = plan.wood_g;
    foresight.where = where_of(next.plan->zones);
    for (const plate::PlanOutcome& o : plan.outcomes)
        foresight.falls.push_back({o.number, o.now_hz - o.after_hz, o.after_sd_hz});
    if (!plan.next.empty()) {
        const plate::NextMeasurement& first = plan.next.front();
        foresight.first = {what_words(first, measurable_on(study)), first.number, first.remains,
                           first.minutes};
    }
    return next;
}

} // namespace platewright::trends
