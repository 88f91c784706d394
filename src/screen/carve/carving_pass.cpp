#include "base/clock.hpp"
#include "base/text.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "screen/fields/fields.hpp"
#include "trends/decision/goal_range.hpp"
#include "trends/model/plate_form.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

std::string_view least_label() { return say("No place thinner than, mm"); }
std::string_view deepest_label() { return say("No hollow deeper than, mm"); }
std::string_view platform_label() { return say("Left alone along the edge, mm"); }
std::string_view share_label() { return say("One pass, % of the whole; empty: as at the bench"); }

/// What can be on or off, and looks chosen while it is on; gives whether it is on now.
bool tick(const ViewContext& context, std::string_view words, bool on) {
    return flow_press(context, words, {}, on ? Stress::chosen : Stress::plain, false) ? !on : on;
}

/// What was planned here, else the pass that bench and sentence speak of; null where there is none.
const trends::PlanAnswer* plan_shown(const ViewContext& context) {
    const auto& work = context.now.work;
    if (!work || !work->study) {
        return nullptr;
    }
    return work->plan ? work->plan.get() : work->next ? work->next->plan.get() : nullptr;
}

} // namespace

plot::PlatePicture PassSheet::picture(const ViewContext& context) const {
    const trends::PlanAnswer* answer = plan_shown(context);
    if (answer == nullptr) {
        return outline_shown(context);
    }
    const plate::Plan& plan = answer->plan;
    plot::PlatePicture picture =
        pass_from_inside(*context.now.work->study->model, whole_ ? plan.removal_mm : plan.pass_mm,
                         trends::form_of(context.now.plate->history).two_piece);
    picture.title = sides_shown(context, true);
    return picture;
}

std::string PassSheet::label_of(const ViewContext& context, int number) const {
    const ledger::SessionHistory* session = context.session();
    const auto* tapped = session != nullptr ? trends::find_mode(session->modes, number) : nullptr;
    const std::string label = modes::mode_text(number);
    return tapped != nullptr ? label + ", " + say("now {}", figure(tapped->mode.frequency_hz, 1))
                             : label;
}

std::optional<std::vector<trends::Goal>> PassSheet::typed_goals(const ViewContext& context) {
    complaint_.clear();
    std::vector<trends::Goal> goals;
    for (const Wish& wish : wishes_) {
        const auto hz = wish.hz.number({}, ledger::k_target);
        if (!hz) {
            complaint_ = {say("\"{}\" is no frequency in Hz.", wish.hz.text),
                          label_of(context, wish.number)};
            return std::nullopt;
        }
        if (*hz) {
            goals.push_back({wish.number, **hz});
        }
    }
    const bool is_meant = goals == asked_about_;
    asked_about_.clear();
    for (const trends::Goal& goal : goals) {
        const std::string question =
            is_meant ? std::string() : trends::question_to({&goal, 1}, context.now.plate->history);
        if (!question.empty()) {
            asked_about_ = goals;
            complaint_ = {question + ' ' + std::string(say("If it is meant so, press again.")),
                          label_of(context, goal.number)};
            return std::nullopt;
        }
    }
    return goals;
}

void PassSheet::keep(const ViewContext& context) {
    if (const auto goals = typed_goals(context)) {
        bench::command::SetTargets command;
        for (const trends::Goal& goal : *goals) {
            command.targets.push_back({goal.number, goal.hz});
        }
        context.send(command);
    }
}

void PassSheet::ask(const ViewContext& context, ledger::Id reference) {
    bench::command::MakePlan command;
    command.reference = reference;
    command.request.alike =
        alike_in_ratio_ ? plate::Likeness::equal_ratio : plate::Likeness::equal_frequency;
    const auto goals = typed_goals(context);
    if (!goals) {
        return;
    }
    command.request.wishes = *goals;
    const auto typed = [](const TypedFigure& f, const base::Limits& limits) {
        const auto number = f.number({}, limits);
        return number ? *number : std::nullopt;
    };
    const auto least = typed(least_, ledger::k_least_left);
    const auto deepest = typed(deepest_, ledger::k_deepest_hollow);
    const auto platform = typed(platform_, ledger::k_left_at_edge);
    const auto share = share_.number({}, ledger::k_pass_share); // empty: as the bench advises
    if (!least || !deepest || !platform || !share) {
        const auto about = [](std::string_view words, std::string_view label) {
            return Complaint{std::string(words), std::string(label)};
        };
        complaint_ = !least     ? about(say("Least thickness: 0.5 to 15 mm."), least_label())
                     : !deepest ? about(say("Greatest depth: 0.05 to 5 mm."), deepest_label())
                     : !platform
                         ? about(say("Left alone along the edge: 0 to 60 mm."), platform_label())
                         : about(say("One pass: 5 to 100 % of the whole."), share_label());
        return;
    }
    if (context.now.in_air) {
        command.request.wish_air = context.now.air;
    }
    command.request.limits = trends::usual_limits(context.now.plate->history.instrument.kind);
    command.request.limits.least_mm = *least;
    command.request.limits.deepest_mm = *deepest;
    command.request.limits.field.edge_mm = *platform;
    if (*share) {
        command.request.limits.pass_share = **share / 100.0;
    }
    command.request.limits.field.symmetric = !lopsided_;
    context.send(command);
}

/// Usual limits with another plate; its kept targets where nothing else has been typed.
void PassSheet::fill_in(const ledger::PlateHistory& history) {
    if (plate_ != history.plate.id) {
        plate_ = history.plate.id;
        const plate::PlanLimits limits = trends::usual_limits(history.instrument.kind);
        least_ = {limits.least_mm, 1};
        deepest_ = {limits.deepest_mm, 1};
        platform_ = {limits.field.edge_mm, 0};
        share_ = {std::nullopt, 0}; // as the bench advises
        wishes_.clear();
        for (const int number : trends::steered_by(history.plate.part)) {
            wishes_.push_back({.number = number});
        }
        complaint_.clear();
        asked_about_.clear();
    }
    const auto kept = trends::goals_of(history);
    for (const trends::Goal& target : kept) {
        const auto place = std::ranges::lower_bound(wishes_, target.number, {}, &Wish::number);
        if (place == wishes_.end() || place->number != target.number) {
            wishes_.insert(place, {.number = target.number});
        }
    }
    for (Wish& wish : wishes_) {
        const auto target = std::ranges::find(kept, wish.number, &trends::Goal::number);
        TypedFigure now{target == kept.end() ? std::nullopt : std::optional(target->hz), 1};
        if (wish.hz.is_touched()) {
            now.text = wish.hz.text;
        }
        wish.hz = std::move(now);
    }
}

void PassSheet::goals(const ViewContext& context, bool may_plan) {
    fill_in(context.now.plate->history);
    heading(context, say("Where modes should go, Hz"));
    for (Wish& wish : wishes_) {
        field(context, label_of(context, wish.number), wish.hz.text, 130.0, false, &complaint_);
    }
    if (may_plan && flow_press(context, say("Plan"), {}, true)) {
        ask(context, 0);
    }
    if (flow_press(context, say("Keep as the plate's targets"))) {
        keep(context);
    }
    std::string kept; // else nothing would answer the press
    for (const ledger::TargetRecord& target : context.now.plate->history.targets) {
        kept += (kept.empty() ? "" : ", ") + modes::mode_text(target.number) + " " +
                figure(target.frequency_hz, 1) + " Hz";
    }
    if (!kept.empty()) {
        text(context, say("The bench goes by {}.", kept));
    }
    faint_text(context,
               may_plan ? say("The bench goes by the targets that are kept; a plan may try others.")
                        : say("The bench goes by the targets that are kept."));
}

void PassSheet::wishes(const ViewContext& context) {
    const bench::PlateView& plate = *context.now.plate;
    const trends::PlateStudy& study = *context.now.work->study;
    const auto date_of = [&](std::size_t session) {
        const auto& sessions = plate.history.sessions;
        return session < sessions.size() ? base::local_date(sessions[session].session.begun)
                                         : std::string("\u2013");
    };
    fact(context, say("map of"), date_of(study.session));
    fact(context, say("as tapped on"), date_of(study.now));
    if (!study.no_plan.empty()) {
        complaint(context, study.no_plan);
    }
    for (const std::string& words : study.rests_on) {
        text(context, words);
    }
    goals(context, true);
    heading(context, say("What a plan keeps to"));
    field(context, least_label(), least_.text, 130.0, false, &complaint_);
    field(context, deepest_label(), deepest_.text, 130.0, false, &complaint_);
    field(context, platform_label(), platform_.text, 130.0, false, &complaint_);
    field(context, share_label(), share_.text, 130.0, false, &complaint_);
    lopsided_ = !tick(context, say("left and right alike"), !lopsided_);
    if (plate.reference) {
        alike_in_ratio_ = tick(context, say("in ratio to mode 2, not in Hz"), alike_in_ratio_);
        if (flow_press(context, say("Plan to be like {}", plate.reference_label))) {
            ask(context, plate.reference->session);
        }
    } else {
        faint_text(context, say("Set beside a reference, a plate can be planned to be like it."));
    }
}

void PassSheet::answer(const ViewContext& context, const trends::PlanAnswer& answer) {
    const plate::Plan& plan = answer.plan;
    heading(context, say("The plan"));
    text(context, plan.summary);
    for (const plate::PlanOutcome& o : plan.outcomes) {
        fact(context, modes::mode_text(o.number) + ", Hz",
             o.is_met() ? figure(o.now_hz, 1) : say("{}, not reached", figure(o.now_hz, 1)));
        fact(context, say("after the next pass"), with_range(o.pass_hz, o.pass_sd_hz, 1));
        fact(context, say("after all of it"),
             say("{} of {}", with_range(o.after_hz, o.after_sd_hz, 1), figure(o.want_hz, 1)));
    }
    for (const trends::PlanZone& zone :
         trends::told_together(trends::seen_from_inside(answer.zones))) {
        if (trends::is_worth_telling(zone)) {
            fact(
                context, zone.name,
                say("mean {} mm, deepest {}", figure(zone.mean_mm, 2), figure(zone.deepest_mm, 2)));
        }
    }
    whole_ = tick(context, say("show all of the plan, not the next pass"), whole_);
    before_it(context, answer.next_words);
    for (const std::string& words : plan.cautions) {
        text(context, words);
    }
}

void PassSheet::hindsight(const ViewContext& context,
                          const trends::PlanHindsight& hindsight) const {
    heading(context, say("How the last plan turned out"));
    told(context, trends::facts_of(hindsight, context.now.plate->history));
}

void PassSheet::side(const ViewContext& context) {
    const auto& work = context.now.work;
    if (!work || !work->study) {
        return;
    }
    if (!work->plan_trouble.empty()) {
        complaint(context, work->plan_trouble);
    } else if (!work->plan && work->next && !work->next->no_plan.empty()) {
        complaint(context, work->next->no_plan); // which the bench asked for by itself
    }
    // Who has planned reads what came of it; who has not yet is to find where it is asked for.
    const trends::PlanAnswer* shown = plan_shown(context);
    if (work->plan) {
        answer(context, *shown);
    }
    wishes(context);
    if (!work->plan && shown != nullptr) {
        answer(context, *shown);
    }
    for (const std::string& remark : work->study->remarks) {
        text(context, remark);
    }
    if (work->hindsight) {
        hindsight(context, *work->hindsight);
    }
}

} // namespace platewright::screen
