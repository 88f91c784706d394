#include "bench/model/plate_worker.hpp"

#include "wording/say.hpp"

#include <exception>

namespace platewright::bench {
using wording::say;

namespace {

std::shared_ptr<const trends::NextPass> next_of(const trends::PlateStudy& study,
                                                modes::InstrumentKind kind,
                                                const PlateWorker::Ahead& ahead) {
    return ahead.goals.empty() ? nullptr
                               : std::make_shared<const trends::NextPass>(
                                     trends::next_pass(study, ahead.goals, kind, ahead.air));
}

} // namespace

PlateWorker::PlateWorker(std::function<void()> woken)
    : woken_(std::move(woken)), aside_([this](const Job& job) { act(job); }) {}

void PlateWorker::study(ledger::PlateHistory history, std::size_t session, Ahead ahead) {
    owe(std::nullopt); // it looks ahead itself
    aside_.ask(Study{std::move(history), session, std::move(ahead)});
}

void PlateWorker::look_ahead(Ahead ahead) {
    owe(ahead);
    aside_.ask(std::move(ahead));
}

void PlateWorker::owe(std::optional<Ahead> ahead) {
    const std::lock_guard lock(door_);
    owed_ = std::move(ahead);
}

void PlateWorker::plan(trends::PlanRequest request) { aside_.ask(std::move(request)); }

void PlateWorker::try_cut(plate::Cut cut) { aside_.ask(cut); }

void PlateWorker::stop() {
    {
        const std::lock_guard lock(door_);
        aside_.call_off();
        owed_.reset();
        if (!view_ || view_->doing.empty())
            return;
        auto still = std::make_shared<PlateWork>(*view_);
        still->doing.clear();
        if (!still->study)
            still->trouble = say("Stopped; nothing was changed.");
        view_ = std::move(still);
    }
    woken_();
}

void PlateWorker::forget() {
    const std::lock_guard lock(door_);
    aside_.call_off();
    view_.reset();
    finished_.reset();
    owed_.reset();
}

std::shared_ptr<const PlateWork> PlateWorker::view() const {
    const std::lock_guard lock(door_);
    return view_;
}

std::optional<ledger::PlanRecord> PlateWorker::take_plan() {
    const std::lock_guard lock(door_);
    return std::exchange(finished_, std::nullopt);
}

void PlateWorker::publish(const PlateWork& work) {
    {
        const std::lock_guard lock(door_);
        if (!aside_.goes_on())
            return;
        view_ = std::make_shared<const PlateWork>(work);
    }
    woken_();
}

bool PlateWorker::tell(PlateWork& work, double share) {
    work.share = share;
    publish(work);
    return aside_.goes_on();
}

void PlateWorker::act(const Job& job) {
    try {
        if (const auto* study = std::get_if<Study>(&job))
            do_study(*study);
        else if (const auto* request = std::get_if<trends::PlanRequest>(&job))
            do_plan(*request);
        else if (const auto* cut = std::get_if<plate::Cut>(&job))
            do_try(*cut);
        look_ahead_as_owed();
    } catch (const std::exception& error) { // the bench goes on without a model
        PlateWork work;
        work.trouble = say("The plate's model could not be computed; what was kept is safe: {}",
                           std::string_view(error.what()));
        publish(work);
    }
}

void PlateWorker::do_study(const Study& job) {
    PlateWork work;
    work.of = inputs_of(job.history, job.session);
    work.doing = say("Fitting the model to this plate");
    if (!tell(work, 0.02))
        return;
    const auto mapped = trends::session_with_map(job.history, job.session);
    if (mapped) {
        auto review = trends::review_map(job.history, *mapped);
        if (review)
            work.map = std::make_shared<const trends::MapReview>(*std::move(review));
        else
            work.map_trouble = review.fault().what;
    }
    if (!tell(work, 0.08))
        return;
    auto study = trends::study_plate(job.history, job.session,
                                     [&](double share) { return tell(work, 0.1 + 0.6 * share); });
    if (study) {
        work.study = std::make_shared<const trends::PlateStudy>(*std::move(study));
        work.hindsight = trends::hindsight_of(job.history, job.session);
        if (work.hindsight)
            trends::review_carving(job.history, *work.hindsight,
                                   [&](double share) { return tell(work, 0.7 + 0.2 * share); });
        work.next = next_of(*work.study, job.history.instrument.kind, job.ahead);
    } else {
        work.trouble = study.fault().what;
    }
    work.doing.clear();
    publish(work);
}

void PlateWorker::look_ahead_as_owed() {
    std::optional<Ahead> owed;
    PlateWork work;
    {
        const std::lock_guard lock(door_);
        if (!owed_ || !view_ || !view_->study || !aside_.goes_on())
            return;
        owed = owed_;
        work = *view_;
    }
    work.next.reset();
    work.doing = say("Looking for the least wood to take");
    if (!tell(work, 0.1))
        return;
    work.next = next_of(*work.study, work.of.history.instrument.kind, *owed);
    work.doing.clear();
    publish(work);
    const std::lock_guard lock(door_);
    if (owed_ == owed && aside_.goes_on())
        owed_.reset();
}

void PlateWorker::do_plan(const trends::PlanRequest& request) {
    PlateWork work;
    if (const auto before = view())
        work = *before;
    work.plan.reset();
    if (!work.study) {
        work.plan_trouble = say("There is no model of this plate yet to plan with.");
        return publish(work);
    }
    work.plan_trouble.clear();
    work.doing = say("Looking for the least wood to take");
    if (!tell(work, 0.1))
        return;
    auto answer = trends::answer(*work.study, request);
    work.doing.clear();
    if (!answer) {
        work.plan_trouble = answer.fault().what;
        return publish(work);
    }
    work.plan = std::make_shared<const trends::PlanAnswer>(*std::move(answer));
    {
        const std::lock_guard lock(door_);
        if (!aside_.goes_on())
            return;
        if (work.plan->worth_keeping)
            finished_ = work.plan->record;
    }
    publish(work);
}

void PlateWorker::do_try(const plate::Cut& cut) {
    PlateWork work;
    if (const auto before = view())
        work = *before;
    work.trial.reset();
    work.trial_trouble.clear();
    if (!work.study) {
        work.trial_trouble = say("There is no model of this plate yet to plan with.");
        return publish(work);
    }
    work.doing = say("Trying the cut on the model");
    if (!tell(work, 0.1))
        return;
    auto trial = trends::try_cut(*work.study, cut);
    work.doing.clear();
    if (trial)
        work.trial = std::make_shared<const trends::CutTrial>(*std::move(trial));
    else
        work.trial_trouble = trial.fault().what;
    publish(work);
}

} // namespace platewright::bench
