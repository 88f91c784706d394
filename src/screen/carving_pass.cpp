#include "screen/carving_pass.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "base/text.hpp"
#include "screen/fields.hpp"
#include "screen/parts.hpp"
#include "screen/plate_pictures.hpp"

#include <algorithm>

namespace platewright::screen {
namespace {

std::string with_range(double value, double sd) {
    return figure(value, 1) + " \u00b1 " + figure(base::plus_minus(sd), 1);
}

/// What can be on or off, and looks chosen while it is on; gives whether it is on now.
bool tick(const Sight& sight, std::string_view words, bool on) {
    return flow_press(sight, words, {}, on ? Stress::chosen : Stress::plain, false) ? !on : on;
}

} // namespace

plot::PlatePicture PassSheet::picture(const Sight& sight) const {
    const auto& work = sight.now.work;
    if (!work || !work->study || !work->plan) {
        return outline_shown(sight);
    }
    const plate::Plan& plan = work->plan->plan;
    const bool two_piece = form_shown(sight.now.plate->history).two_piece;
    return plan_picture(*work->study, whole_ ? plan.removal_mm : plan.pass_mm, two_piece);
}

void PassSheet::ask(const Sight& sight, ledger::Id reference) {
    bench::command::MakePlan command;
    command.reference = reference;
    command.request.alike =
        alike_in_ratio_ ? plate::Likeness::equal_ratio : plate::Likeness::equal_frequency;
    complaint_.clear();
    for (const Wish& wish : wishes_) {
        const auto hz = wish.hz.number({}, 10.0, 5000.0, "Hz");
        if (!hz) {
            complaint_ = say("\"{}\" is no frequency in Hz.", wish.hz.text);
            return;
        }
        if (*hz) {
            command.request.wishes.push_back({wish.number, **hz});
        }
    }
    const auto typed = [](const TypedFigure& f, double low, double high, const char* unit) {
        const auto number = f.number({}, low, high, unit);
        return number ? *number : std::nullopt;
    };
    const auto least = typed(least_, 0.5, 15.0, "mm");
    const auto deepest = typed(deepest_, 0.05, 5.0, "mm");
    const auto platform = typed(platform_, 0.0, 60.0, "mm");
    const auto share = typed(share_, 5.0, 100.0, "%");
    if (!least || !deepest || !platform || !share) {
        complaint_ = !least      ? say("Least thickness: 0.5 to 15 mm.")
                     : !deepest  ? say("Greatest depth: 0.05 to 5 mm.")
                     : !platform ? say("Left alone along the edge: 0 to 60 mm.")
                                 : say("One pass: 5 to 100 % of the whole.");
        return;
    }
    if (sight.now.in_air) {
        command.request.wish_air = sight.now.air;
    }
    command.request.limits = trends::usual_limits(sight.now.plate->history.instrument.kind);
    command.request.limits.least_mm = *least;
    command.request.limits.deepest_mm = *deepest;
    command.request.limits.field.edge_mm = *platform;
    command.request.limits.pass_share = *share / 100.0;
    command.request.limits.field.symmetric = !lopsided_;
    sight.send(command);
}

/// Usual limits with another plate; its kept targets where nothing else has been typed.
void PassSheet::fill_in(const ledger::PlateHistory& history) {
    if (plate_ != history.plate.id) {
        plate_ = history.plate.id;
        const plate::PlanLimits limits = trends::usual_limits(history.instrument.kind);
        least_ = {limits.least_mm, 1};
        deepest_ = {limits.deepest_mm, 1};
        platform_ = {limits.field.edge_mm, 0};
        share_ = {100.0 * limits.pass_share, 0};
        wishes_ = {{.number = 1}, {.number = 2}, {.number = 5}};
        complaint_.clear();
    }
    const auto kept = trends::kept_wishes(history);
    for (const trends::PlanWish& target : kept) {
        const auto place = std::ranges::lower_bound(wishes_, target.number, {}, &Wish::number);
        if (place == wishes_.end() || place->number != target.number) {
            wishes_.insert(place, {.number = target.number});
        }
    }
    for (Wish& wish : wishes_) {
        const auto target = std::ranges::find(kept, wish.number, &trends::PlanWish::number);
        TypedFigure now{target == kept.end() ? std::nullopt : std::optional(target->want_hz), 1};
        if (wish.hz.is_touched()) {
            now.text = wish.hz.text;
        }
        wish.hz = std::move(now);
    }
}

void PassSheet::wishes(const Sight& sight) {
    const bench::PlateView& plate = *sight.now.plate;
    fill_in(plate.history);
    const trends::PlateStudy& study = *sight.now.work->study;
    const auto date_of = [&](std::size_t session) {
        const auto& sessions = plate.history.sessions;
        return session < sessions.size() ? base::local_date(sessions[session].session.begun)
                                         : std::string("\u2013");
    };
    fact(sight, say("map of"), date_of(study.session));
    fact(sight, say("as tapped on"), date_of(study.now));
    if (!study.no_plan.empty()) {
        complaint(sight, study.no_plan);
    }
    for (const std::string& words : study.rests_on) {
        text(sight, words);
    }
    heading(sight, say("Where modes should go, Hz"));
    for (Wish& wish : wishes_) {
        std::string label = modes::mode_text(wish.number);
        for (const plate::TappedMode& tapped : sight.now.work->study->tapped) {
            if (tapped.number == wish.number) {
                label += ", " + say("now {}", figure(tapped.frequency_hz, 1));
            }
        }
        field(sight, label, wish.hz.text, 130.0);
    }
    field(sight, say("No place thinner than, mm"), least_.text, 130.0);
    field(sight, say("Nowhere take more than, mm"), deepest_.text, 130.0);
    field(sight, say("Left alone along the edge, mm"), platform_.text, 130.0);
    field(sight, say("One pass, % of the whole"), share_.text, 130.0);
    lopsided_ = !tick(sight, say("left and right alike"), !lopsided_);
    if (!complaint_.empty()) {
        complaint(sight, complaint_);
    }
    if (flow_press(sight, say("Plan"), {}, true)) {
        ask(sight, 0);
    }
    if (plate.reference) {
        alike_in_ratio_ = tick(sight, say("in ratio to mode 2, not in Hz"), alike_in_ratio_);
        if (flow_press(sight, say("Plan to be like {}", plate.reference_label))) {
            ask(sight, plate.reference->session);
        }
    } else {
        faint_text(sight, say("Set beside a reference, a plate can be planned to be like it."));
    }
}

void PassSheet::answer(const Sight& sight, const trends::PlanAnswer& answer) {
    const plate::Plan& plan = answer.plan;
    heading(sight, say("The plan"));
    text(sight, plan.summary);
    for (const plate::PlanOutcome& o : plan.outcomes) {
        fact(sight, modes::mode_text(o.number) + ", Hz",
             o.is_met ? figure(o.now_hz, 1) : say("{}, not reached", figure(o.now_hz, 1)));
        fact(sight, say("after the next pass"), with_range(o.pass_hz, o.pass_sd_hz));
        fact(sight, say("after all of it"),
             say("{} of {}", with_range(o.after_hz, o.after_sd_hz), figure(o.want_hz, 1)));
    }
    for (const trends::PlanZone& zone : answer.zones) {
        if (zone.deepest_mm >= 0.01) {
            fact(sight, zone.name,
                 say("{} mm, at most {}", figure(zone.mean_mm, 2), figure(zone.deepest_mm, 2)));
        }
    }
    whole_ = tick(sight, say("show all of the plan, not the next pass"), whole_);
    before_it(sight, answer.next_words);
    for (const std::string& words : plan.cautions) {
        text(sight, words);
    }
}

void PassSheet::hindsight(const Sight& sight, const trends::PlanHindsight& hindsight) const {
    heading(sight, say("How the last plan turned out"));
    if (hindsight.taken_g) {
        fact(sight, say("planned, by the scales"),
             figure(hindsight.pass_g, 1) + " g, " + figure(*hindsight.taken_g, 1) + " g");
    }
    for (const plate::Hindsight& mode : hindsight.modes) {
        text(sight, mode.text);
    }
    if (!hindsight.carved) {
        return;
    }
    const trends::CarvedPass& carved = *hindsight.carved;
    fact(sight, say("off by the next map"), figure(carved.map_g, 1) + " g");
    if (carved.likeness && carved.times) {
        fact(sight, say("as deep as planned"), say("{} times", figure(*carved.times, 2)));
        fact(sight, say("laid out like the plan"),
             say("{} (1: just so)", figure(*carved.likeness, 2)));
    }
    faint_text(sight, say("For the wood that the maps say was really taken:"));
    for (const plate::Hindsight& mode : carved.modes) {
        text(sight, mode.text);
    }
}

void PassSheet::side(const Sight& sight) {
    const auto& work = sight.now.work;
    if (!work || !work->study) {
        return;
    }
    if (!work->plan_trouble.empty()) {
        complaint(sight, work->plan_trouble);
    }
    if (work->plan) {
        answer(sight, *work->plan);
    }
    wishes(sight);
    for (const std::string& remark : work->study->remarks) {
        text(sight, remark);
    }
    if (work->hindsight) {
        hindsight(sight, *work->hindsight);
    }
}

} // namespace platewright::screen
