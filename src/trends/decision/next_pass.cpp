#include "trends/decision/next_pass.hpp"

#include "trends/model/measure_next.hpp"

#include <algorithm>

namespace platewright::trends {
namespace {

constexpr double k_thinnest_mm = 1.0; // of a plate that is only thought of
constexpr double k_most_fading = 0.4; // of a gram's effect: more is a mode that was lost

/// By how much a gram does less where twice the plan's wood comes off its places, a plan's mode
/// each: the model itself is asked, since a usual pass may be several times what is left to take.
std::vector<double> fading_of(const PlateStudy& study, const plate::Plan& plan) {
    std::vector<int> numbers;
    for (const plate::PlanOutcome& o : plan.outcomes)
        numbers.push_back(o.number);
    const auto shifts_with = [&](double times) {
        const Eigen::VectorXd left =
            (study.thickness_mm - times * plan.removal_mm).cwiseMax(k_thinnest_mm);
        return plate::forecast_shifts(
            *study.model, study.fit, study.state,
            plate::fitted_state(*study.model, study.fit, left, study.state.modes.shapes), numbers);
    };
    const auto once = shifts_with(1.0), twice = shifts_with(2.0);
    std::vector<double> fading;
    for (const int number : numbers) {
        const auto one = std::ranges::find(once, number, &plate::ShiftForecast::number);
        const auto two = std::ranges::find(twice, number, &plate::ShiftForecast::number);
        const bool falls = one != once.end() && two != twice.end() && one->shift_hz < 0.0;
        fading.push_back(
            falls ? std::clamp(1.0 - 0.5 * two->shift_hz / one->shift_hz, 0.0, k_most_fading)
                  : 0.0);
    }
    return fading;
}

} // namespace

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
    const std::vector<double> fading = fading_of(study, plan);
    for (std::size_t k = 0; k < plan.outcomes.size(); ++k)
        if (const auto there = there_of(plan.outcomes[k], plan.wood_g, study.modes))
            foresight.falls.push_back({plan.outcomes[k].number, {*there, plan.wood_g, fading[k]}});
    if (!plan.next.empty()) {
        const plate::NextMeasurement& first = plan.next.front();
        foresight.first = {what_words(first, measurable_on(study)), first.number, first.remains,
                           first.minutes};
    }
    return next;
}

} // namespace platewright::trends
