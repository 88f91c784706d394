#include "trends/model/plan_request.hpp"

#include "trends/air/in_air.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/model/measure_next.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::say;
using Targets = std::vector<plate::PlanTarget>;

bool is_in(const Targets& targets, int number) {
    return std::any_of(targets.begin(), targets.end(),
                       [&](const auto& t) { return t.number == number; });
}

/// Each mode must have been tapped and named in the session that is now.
base::Result<Targets> wished(const PlateStudy& study, const PlanRequest& request) {
    Targets targets;
    for (const Goal& wish : request.wishes) {
        const auto now = std::ranges::find(study.modes, wish.number, &ModeNow::number);
        if (now == study.modes.end())
            return base::Fault{
                say("Mode {} was not found, or not named, in the newest session that was tapped: "
                    "tap it there, or name it, before it is planned for.",
                    wish.number)};
        const double want_hz = study.air && request.wish_air
                                   ? hz_in_air(wish.hz, wish.number, *request.wish_air, *study.air)
                                   : wish.hz;
        targets.push_back({wish.number, now->level.hz, want_hz, 1.0});
    }
    return targets;
}

base::Result<Targets> all_targets(const PlateStudy& study, const PlanRequest& request) {
    auto targets = wished(study, request);
    if (!targets)
        return targets;
    bool in_common = request.reference.empty();
    std::vector<plate::TappedMode> reference = request.reference;
    if (study.air && request.reference_air)
        for (plate::TappedMode& mode : reference)
            mode.frequency_hz =
                hz_in_air(mode.frequency_hz, mode.number, *request.reference_air, *study.air);
    std::vector<plate::TappedMode> levels;
    for (const ModeNow& mode : study.modes)
        levels.push_back({mode.number, mode.level.hz, mode.level.sd_hz});
    for (const auto& t : plate::targets_from(levels, reference, request.alike)) {
        in_common = in_common || is_steering(t.number);
        if (is_steering(t.number) && !is_in(*targets, t.number))
            targets->push_back(t);
    }
    if (!in_common)
        return base::Fault{
            say("\"{}\" has no named mode in common with this plate.", request.reference_label)};
    if (targets->empty())
        return base::Fault{say("Say where a mode should be, or choose a reference: a "
                               "plan needs something to aim at.")};
    return targets;
}

/// What a place's thickness may be off by, where the map was carried on.
double carried_off_mm(const PlateStudy& study) {
    return study.carried ? study.carried->off_mm : 0.0;
}

// A place that is thinner than the map has it by a small part bends the more for it: of a round one
// in a plate that is bent both ways alike the curvature goes with D^-(1 + nu)/2, of one that is
// twisted with D^-(1 - nu)/4 (a round inclusion, D its stiffness ~ h^3; from memory). What a gram
// does there, D curvature^2 / h, so changes by -1.9 to 0.95 times that part, nu = 0.3: about once,
// of either sign. By twice, were the curvature left as it is.
void widen_by_carrying(std::span<plate::PlanOutcome> outcomes, const PlateStudy& study) {
    const double share = carried_off_mm(study) / study.thickness_mm.mean();
    for (plate::PlanOutcome& o : outcomes) {
        o.pass_sd_hz = std::hypot(o.pass_sd_hz, share * (o.pass_hz - o.now_hz));
        o.after_sd_hz = std::hypot(o.after_sd_hz, share * (o.after_hz - o.now_hz));
    }
}

/// The share of a plan that is its next pass: the least that any mode still above its goal is
/// given. What is held where it is gives none: that is the whole plan's task.
double share_of_pass(const PlateStudy& study, const Targets& targets, double wood_g,
                     std::span<const plate::PlanOutcome> after_all) {
    double pass_g = wood_g;
    for (const plate::PlanOutcome& o : after_all) {
        const auto target = std::ranges::find(targets, o.number, &plate::PlanTarget::number);
        const auto now = std::ranges::find(study.modes, o.number, &ModeNow::number);
        const auto there = there_of(o, wood_g, study.modes);
        if (there && target->firmness >= 1.0 && !is_at(o.want_hz, now->level))
            pass_g = std::min(pass_g, way_to_goal(now->level, o.want_hz, *there, wood_g).pass_g);
    }
    return wood_g > 0.0 ? pass_g / wood_g : 1.0;
}

} // namespace

std::optional<PerGram> there_of(const plate::PlanOutcome& outcome, double wood_g,
                                std::span<const ModeNow> modes) {
    const auto now = std::ranges::find(modes, outcome.number, &ModeNow::number);
    if (now == modes.end() || !(wood_g > 0.0) || !(outcome.after_sd_hz > 0.0))
        return std::nullopt;
    return at_the_place(
        {(outcome.now_hz - outcome.after_hz) / wood_g, outcome.after_sd_hz / wood_g}, now->own);
}

void refer_to(PlanRequest& request, const ledger::PlateHistory& other, ledger::Id session) {
    if (const ledger::SessionHistory* one = ledger::session_in(other.sessions, session)) {
        request.reference = tapped_modes(*one);
        request.reference_air = air_of(one->session);
    }
}

std::optional<base::Fault> fault_in(std::span<const Goal> wishes) {
    for (auto wish = wishes.begin(); wish != wishes.end(); ++wish)
        if (std::any_of(wishes.begin(), wish,
                        [&](const Goal& before) { return before.number == wish->number; }))
            return base::Fault{
                say("Mode {} is given two frequencies to come to: give one.", wish->number)};
    return std::nullopt;
}

plate::PlanLimits usual_limits(modes::InstrumentKind kind) {
    plate::PlanLimits limits;
    if (kind == modes::InstrumentKind::cello) {
        limits.least_mm = 3.0;
        limits.field.width_mm = 50.0;
        limits.field.edge_mm = 18.0;
    } else if (kind == modes::InstrumentKind::double_bass) { // common practice, no source
        limits.least_mm = 4.5;
        limits.field.width_mm = 70.0;
        limits.field.edge_mm = 25.0;
    }
    return limits;
}

base::Result<PlanAnswer> answer(const PlateStudy& study, const PlanRequest& request) {
    if (auto fault = unfit_to_foresee(study))
        return *std::move(fault);
    if (auto fault = fault_in(request.wishes))
        return *std::move(fault);
    auto targets = all_targets(study, request);
    if (!targets)
        return targets.fault();
    PlanAnswer result;
    result.targets = with_soft_holds(*std::move(targets), study);
    result.limits = request.limits;
    const plate::Measurable what = measurable_on(study);
    plate::PlanLimits careful = request.limits;
    careful.least_mm += carried_off_mm(study);
    careful.hollow_mm = study.hollow_mm;
    const auto share = [&](double wood_g, std::span<const plate::PlanOutcome> after_all) {
        std::vector<plate::PlanOutcome> outcomes(after_all.begin(), after_all.end());
        widen_by_carrying(outcomes, study);
        return share_of_pass(study, result.targets, wood_g, outcomes);
    };
    result.plan = plate::make_plan(*study.model, study.fit, study.thickness_mm, result.targets,
                                   careful, what, share);
    if (study.carried) {
        widen_by_carrying(result.plan.outcomes, study);
        plate::describe(result.plan, study.fit);
    }
    result.worth_keeping = result.plan.status == plate::PlanStatus::ok ||
                           result.plan.status == plate::PlanStatus::not_reachable;
    result.zones = plan_zones(*study.model, result.plan.pass_mm, study.fit.wood);
    result.record = record_of(result.plan, study, request.limits.field);
    result.record.session = study.as_of.id;
    std::vector<plate::ShiftForecast> forecasts;
    for (const plate::PlanOutcome& o : result.plan.outcomes)
        forecasts.push_back({o.number, o.now_hz, o.after_hz, o.after_hz - o.now_hz, o.after_sd_hz});
    result.next_words = words_of(result.plan.next, what, forecasts);
    return result;
}

ledger::PlanRecord with_pass_of(ledger::PlanRecord plan, double grams) {
    if (!(plan.pass_share > 0.0))
        return plan;
    const double share = std::min(1.0, grams / plan.wood_g), times = share / plan.pass_share;
    plan.pass_share = share;
    for (plate::PlanOutcome& o : plan.modes) {
        o.pass_hz = o.now_hz + times * (o.pass_hz - o.now_hz);
        o.pass_sd_hz *= times;
    }
    return plan;
}

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
    request.wishes.assign(goals.begin(), goals.end());
    auto answered = answer(study, request);
    NextPass next;
    PassForesight& foresight = next.foresight;
    foresight.goals.assign(goals.begin(), goals.end());
    for (const ModeNow& mode : study.modes)
        foresight.levels.push_back({mode.number, mode.level});
    if (!answered) {
        next.no_plan = answered.fault().what;
        return next;
    }
    next.plan = std::make_shared<const PlanAnswer>(*std::move(answered));
    const plate::Plan& plan = next.plan->plan;
    foresight.wood_g = plan.wood_g;
    foresight.is_limited = plan.status == plate::PlanStatus::not_reachable && plan.held.empty();
    foresight.least_mm = next.plan->limits.least_mm;
    foresight.deepest_mm = next.plan->limits.deepest_mm;
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
