#include "trends/model/cut_trial.hpp"

#include "ledger/limits.hpp"
#include "plate/shape/spots.hpp"
#include "trends/decision/pass_rule.hpp"
#include "trends/drift/repeatability.hpp"
#include "trends/model/measure_next.hpp"
#include "wording/say.hpp"

namespace platewright::trends {
namespace {

using wording::figure;
using wording::say;

constexpr double k_least_left_mm = 1.0; // no plate is thinner anywhere

std::optional<base::Fault> fault_in(const plate::Cut& cut, const plate::Outline& outline) {
    if (!outline.holds(cut.at))
        return base::Fault{say("{} is off the plate.", plate::place_text(cut.at))};
    if (!ledger::k_cut_depth.hold(cut.depth_mm))
        return base::Fault{say("A depth of {} mm can't be tried: give up to {} mm.",
                               figure(cut.depth_mm, 2), figure(ledger::k_cut_depth.most, 0))};
    if (!ledger::k_cut_across.hold(cut.across_mm))
        return base::Fault{say("A place {} mm across can't be tried: give {} to {} mm.",
                               figure(cut.across_mm, 0), figure(ledger::k_cut_across.least, 0),
                               figure(ledger::k_cut_across.most, 0))};
    return std::nullopt;
}

} // namespace

base::Result<CutTrial> try_cut(const PlateStudy& study, const plate::Cut& cut) {
    if (auto fault = unfit_to_foresee(study))
        return *std::move(fault);
    const plate::PlateModel& model = *study.model;
    if (auto fault = fault_in(cut, model.form().outline))
        return *std::move(fault);
    const plate::Rehearsal all =
        plate::rehearse(model, study.fit, study.state, study.thickness_mm, cut, k_steering);
    if (all.thinnest_mm < k_least_left_mm)
        return base::Fault{
            say("That would leave {} mm: it can't be tried.", figure(all.thinnest_mm, 2))};
    CutTrial trial;
    trial.cut = cut;
    trial.wood_g = all.wood_g;
    trial.thinnest_mm = all.thinnest_mm;
    trial.modes = study.modes;
    trial.shifts = all.shifts;
    if (study.fit_by_taps) {
        const auto state = plate::fitted_state(model, *study.fit_by_taps, study.thickness_mm,
                                               study.state.modes.shapes);
        trial.by_taps =
            plate::rehearse(model, *study.fit_by_taps, state, study.thickness_mm, cut, k_steering)
                .shifts;
    }
    const plate::Measurable what = measurable_on(study);
    trial.next = plate::next_measurements(model, study.fit, study.thickness_mm, study.state,
                                          plate::fitted_state(model, study.fit,
                                                              study.thickness_mm - all.removal_mm,
                                                              study.state.modes.shapes),
                                          all.shifts, what);
    trial.next_words = words_of(trial.next, what, all.shifts);
    trial.cautions = {say("Wood taken off can't be put back: this is a forecast, and "
                          "its ± an interval of 95 %."),
                      say("Fix the work in a cradle and keep both hands behind the "
                          "edge; local rules and training decide.")};
    trial.record.session = study.as_of.id;
    trial.record.model_version = std::string(k_model_version);
    trial.record.pass_share = 1.0;
    trial.record.wood_g = all.wood_g;
    trial.record.summary =
        say("Tried on the model: {} mm off {} mm across, at {}.", figure(cut.depth_mm, 2),
            figure(cut.across_mm, 0), plate::place_text(cut.at));
    for (const plate::ShiftForecast& f : all.shifts)
        for (const ModeNow& now : study.modes)
            if (now.number == f.number) {
                const double then = now.level.hz + f.shift_hz;
                trial.record.modes.push_back(
                    {f.number, now.level.hz, then, 1.0, then, f.shift_sd_hz, then, f.shift_sd_hz});
            }
    return trial;
}

std::vector<BeyondGoal> beyond_goals(const CutTrial& trial, std::span<const Goal> goals) {
    std::vector<BeyondGoal> all;
    for (const Goal& goal : goals) {
        const auto now = std::ranges::find(trial.modes, goal.number, &ModeNow::number);
        const auto f = std::ranges::find(trial.shifts, goal.number, &plate::ShiftForecast::number);
        if (now == trial.modes.end() || f == trial.shifts.end() || !(trial.wood_g > 0.0))
            continue;
        const PerGram fall =
            as_scraped({-f->shift_hz / trial.wood_g, f->shift_sd_hz / trial.wood_g});
        const Margin margin{now->level.hz, now->level.sd_hz, goal.hz * (1.0 - k_hanging_anew)};
        all.push_back({goal, chance_below(margin, fall, trial.wood_g)});
    }
    return all;
}

std::string words_of(const BeyondGoal& beyond) {
    const std::string mode = modes::mode_text(beyond.goal.number);
    const std::string hz = figure(beyond.goal.hz, 1);
    const std::string pct = figure(chance_as_said_pct(beyond.chance), 0);
    return beyond.goal.of_reference
               ? say("{} would go beyond the reference, {} Hz, with a chance of {} %.", mode, hz,
                     pct)
               : say("{} would go beyond its goal of {} Hz with a chance of {} %.", mode, hz, pct);
}

} // namespace platewright::trends
