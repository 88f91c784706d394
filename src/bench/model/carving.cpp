#include "bench/model/carving.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "base/text.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/review/flex_review.hpp"
#include "wording/say.hpp"

#include <algorithm>

namespace platewright::bench {
namespace {
using wording::say;

plate::Outline outline_or_fail(const ledger::FormRecord& form) {
    auto outline = trends::outline_of(form);
    if (!outline)
        throw base::Failure(say("{} Nothing was stored.", outline.fault().what));
    return *std::move(outline);
}

} // namespace

const ledger::PlateHistory& Carving::history() const {
    if (workbench_.history() == nullptr)
        throw base::Failure(say("No plate is open: make or open one first. Nothing was stored."));
    return *workbench_.history();
}

ledger::Id Carving::open_session() const {
    if (workbench_.session() == 0)
        throw base::Failure(say("No session is open: begin one first. Nothing was stored."));
    return workbench_.session();
}

void Carving::execute(const command::SetForm& c) {
    const ledger::Id plate = history().plate.id;
    if (const auto fault = trends::fault_in(c.form, history()))
        throw base::Failure(fault->what);
    store_.set_form(plate, c.form);
    workbench_.reload();
}

void Carving::execute(const command::SetTargets& c) {
    const ledger::PlateHistory& plate = history();
    const auto is_among = [&](const ledger::TargetRecord& target) {
        return std::ranges::find(c.targets, target.number, &ledger::TargetRecord::number) !=
               c.targets.end();
    };
    for (const ledger::TargetRecord& kept : plate.targets)
        if (!is_among(kept))
            store_.set_target(plate.plate.id, kept.number, std::nullopt);
    for (const ledger::TargetRecord& target : c.targets)
        if (std::ranges::find(plate.targets, target) == plate.targets.end())
            store_.set_target(plate.plate.id, target.number, target.frequency_hz);
    workbench_.reload();
}

void Carving::execute(const command::SetThickness& c) {
    const ledger::PlateHistory& plate = history();
    const ledger::FormRecord form = trends::form_of(plate);
    if (const auto fault = plate::fault_in(c.readings, outline_or_fail(form)))
        throw base::Failure(fault->what);
    if (!plate.form)
        store_.set_form(plate.plate.id, form); // the usual one, until the maker says otherwise
    store_.set_thickness(c.session, c.readings);
    workbench_.reload();
}

void Carving::execute(const command::AddPin& c) {
    ledger::PinRecord pin = c.pin;
    pin.session = open_session();
    pin.text = std::string(base::trimmed(pin.text));
    if (pin.text.empty())
        throw base::Failure(say("A pin needs a word or two: what the hand found "
                                "there. Nothing was stored."));
    if (!outline_or_fail(trends::form_of(history())).holds(pin.at))
        throw base::Failure(say("That place is off the plate. Nothing was stored."));
    store_.add(pin);
    workbench_.reload();
}

void Carving::execute(const command::AddFlex& c) {
    ledger::FlexRecord flex = c.flex;
    flex.session = open_session();
    const auto reading = trends::flex_reading(flex, outline_or_fail(trends::form_of(history())));
    if (!reading)
        throw base::Failure(reading.fault().what);
    store_.add(flex);
    workbench_.reload();
}

void Carving::execute(const command::StudyPlate&) {
    const ledger::PlateHistory* plate = workbench_.history();
    if (plate == nullptr || plate->sessions.empty())
        return;
    asked_ = ask_now();
    next_.reset();
    worker_.study(*plate, asked_->inputs.session, asked_->ahead);
}

Carving::Asked Carving::ask_now() const {
    const ledger::PlateHistory& plate = *workbench_.history();
    const std::size_t session =
        index_of(plate.sessions, workbench_.session()).value_or(plate.sessions.size() - 1);
    const auto view = workbench_.view();
    return {inputs_of(plate, session),
            {view->goals, view->in_air ? workbench_.air() : std::nullopt}};
}

void Carving::look_ahead() {
    const auto view = workbench_.view();
    if (!view || view == looked_at_)
        return;
    looked_at_ = view;
    if (view->session == 0 || !trends::asks_model(view->decision.advice))
        return;
    Asked now = ask_now();
    if (!trends::session_with_map(*workbench_.history(), now.inputs.session))
        return;
    if (asked_ == now) { // known, or on its way
        if (next_ && !workbench_.foresees())
            workbench_.foresee(next_);
        return;
    }
    const auto work = worker_.view();
    const bool is_studied = work && work->study && work->of == now.inputs;
    asked_ = std::move(now);
    next_.reset();
    if (is_studied)
        worker_.look_ahead(asked_->ahead);
    else
        worker_.study(*workbench_.history(), asked_->inputs.session, asked_->ahead);
}

void Carving::keep_named_pass() {
    const auto view = workbench_.view();
    if (store_.read_only() || !view || view->session == 0 || !next_ || !next_->plan ||
        !next_->plan->worth_keeping)
        return;
    const trends::Decision& decision = view->decision;
    const ledger::SessionHistory& newest = workbench_.history()->sessions.back();
    if (newest.session.id != view->session || newest.plan ||
        next_->plan->record.session != view->session || decision.advice != trends::Advice::take ||
        !decision.by_model)
        return;
    ledger::PlanRecord plan = trends::with_pass_of(next_->plan->record, decision.take_g);
    plan.made = base::now();
    store_.add(plan);
    workbench_.reload();
}

void Carving::forget() {
    worker_.forget();
    asked_.reset();
    next_.reset();
}

void Carving::execute(const command::MakePlan& c) {
    trends::PlanRequest request = c.request;
    if (const auto other = store_.history_with(c.reference)) {
        trends::refer_to(request, *other, c.reference);
        request.reference_label = other->plate.label;
    }
    worker_.plan(std::move(request));
}

void Carving::execute(const command::KeepTrial&) {
    const auto work = worker_.view();
    if (!work || !work->trial)
        throw base::Failure(say("No cut was tried: there is nothing to keep."));
    ledger::PlanRecord plan = work->trial->record;
    plan.made = base::now();
    store_.add(plan);
    workbench_.reload();
}

void Carving::take_over() {
    if (const auto work = worker_.view(); work && work->study && work->study != taken_over_) {
        taken_over_ = work->study;
        workbench_.expect(trends::spot_profiles(*work->study));
    }
    if (const auto work = worker_.view(); work && work->next && work->next != next_) {
        next_ = work->next;
        workbench_.foresee(next_);
    }
    auto plan = worker_.take_plan();
    if (!plan)
        return;
    if (store_.read_only())
        throw base::Failure(say("The plan is not kept, because the ledger can only be read here."));
    plan->made = base::now();
    store_.add(*plan);
    workbench_.reload();
}

} // namespace platewright::bench
