#include "screen/carving_trial.hpp"

#include "base/interval.hpp"
#include "plate/spots.hpp"
#include "screen/fields.hpp"
#include "screen/weighing_words.hpp"

#include <algorithm>
#include <vector>

namespace platewright::screen {
namespace {

const trends::CutTrial* trial_of(const Sight& sight) {
    return sight.now.work && sight.now.work->trial ? sight.now.work->trial.get() : nullptr;
}

} // namespace

plot::PlatePicture TrialSheet::picture(const Sight& sight) const {
    plot::PlatePicture picture = outline_shown(sight);
    if (const ledger::SessionHistory* session = sight.session()) {
        for (const ledger::WeighingRecord& w : session->weighings) {
            picture.marks.push_back(
                {{w.at.x_mm, w.at.y_mm},
                 figure(w.mass_g, 1) + " g",
                 plot::Shape::disc,
                 sight.now.plate->weighing && sight.now.plate->weighing->record.id == w.id});
        }
    }
    if (const trends::CutTrial* trial = trial_of(sight)) {
        picture.marks.push_back({{trial->cut.at.x_mm, trial->cut.at.y_mm},
                                 figure(trial->cut.depth_mm, 2) + " mm",
                                 plot::Shape::cross,
                                 true});
        for (std::size_t k = 0; k < std::min(k_most_next, trial->next.size()); ++k) {
            const plate::NextMeasurement& m = trial->next[k];
            if (m.kind == plate::MeasurementKind::mass) {
                picture.marks.push_back({{m.mass.at.x_mm, m.mass.at.y_mm},
                                         std::to_string(k + 1),
                                         plot::Shape::triangle,
                                         false});
            }
        }
    }
    if (at_) {
        picture.marks.push_back({{at_->x_mm, at_->y_mm}, {}, plot::Shape::cross, true});
    }
    return picture;
}

void TrialSheet::kept(const Sight& sight, const ledger::SessionHistory& session) {
    for (const ledger::WeighingRecord& w : session.weighings) {
        text(sight, say("{} g, {}", figure(w.mass_g, 2), plate::place_text(w.at)));
        const trends::WeighingReview* review = nullptr;
        if (sight.now.work && sight.now.work->study) {
            for (const trends::WeighingReview& one : sight.now.work->study->weighings) {
                if (one.record.id == w.id) {
                    review = &one;
                }
            }
        }
        const auto shifts =
            review ? review->shifts : trends::weighed_shifts(session, w, session.session.mass_g);
        for (const trends::WeighedModeShift& shift : shifts) {
            text(sight, words_of(shift));
        }
        if (review && !review->is_used) {
            faint_text(sight,
                       say("left out: {} deviations off the model", figure(review->deviations, 1)));
        }
        ImGui::PushID(static_cast<int>(w.id));
        if (flow_press(sight, say("Take this weighing out"))) {
            away_.put(sight, "weighing", w.id, std::string(ledger::to_text(w.thing)));
        }
        ImGui::PopID();
    }
}

void TrialSheet::weigh(const Sight& sight, const ledger::SessionHistory& session) {
    heading(sight, say("Weigh the modes here"));
    const auto& at_hand = sight.now.plate->weighing;
    if (at_hand && at_hand->progress.step != trends::WeighingStep::done) {
        const WeighingWords words = words_of(*at_hand);
        text(sight, words.step + ". " + words.sentence);
        if (flow_press(sight, say("Leave this weighing off"))) {
            sight.send(bench::command::EndWeighing{});
        }
        kept(sight, session);
        return;
    }
    std::vector<std::string> things;
    for (const ledger::LaidThing thing : ledger::k_laid_things) {
        things.emplace_back(ledger::to_text(thing));
    }
    drop_down(sight, say("What is laid on"), things, thing_);
    field(sight, say("Its mass, g"), mass_, 130.0);
    field(sight, say("It may lie off by, mm"), doubt_, 130.0);
    if (flow_press(sight, say("Weigh at the cross"))) {
        const auto mass = number_within(mass_, 0.05, 200.0, "g");
        const auto doubt = number_within(doubt_, 0.0, 50.0, "mm");
        complaint_ = !at_     ? say("Click the place on the plate first.")
                     : !mass  ? say("Its mass: 0.05 to 200 g.")
                     : !doubt ? say("How far off it may lie: 0 to 50 mm.")
                              : std::string_view();
        if (at_ && mass && doubt) {
            ledger::WeighingRecord weighing;
            weighing.at = *at_;
            weighing.thing = ledger::k_laid_things.at(thing_);
            weighing.mass_g = *mass;
            weighing.place_sd_mm = *doubt;
            sight.send(bench::command::BeginWeighing{weighing});
            at_.reset();
        }
    }
    faint_text(sight, say("A hundredth of the plate's mass, weighed to 0.02 g, leaves no mark. Tap "
                          "bare, with it, bare again; the plate stays where it hangs. Which is "
                          "which is heard."));
    kept(sight, session);
}

void TrialSheet::result(const Sight& sight, const trends::CutTrial& trial) {
    text(sight, trial.record.summary);
    text(sight, say("It takes {} g and leaves {} mm.", figure(trial.wood_g, 2),
                    figure(trial.thinnest_mm, 2)));
    for (const plate::ShiftForecast& f : trial.shifts) {
        fact(sight, modes::mode_text(f.number),
             wording::signed_figure(f.shift_hz, 1) + " ± " +
                 figure(base::plus_minus(f.shift_sd_hz), 1) + " Hz");
        for (const plate::ShiftForecast& before : trial.by_taps) {
            if (before.number == f.number) {
                fact(sight, say("by taps alone"),
                     wording::signed_figure(before.shift_hz, 1) + " ± " +
                         figure(base::plus_minus(before.shift_sd_hz), 1) + " Hz");
            }
        }
    }
    if (const ledger::SessionHistory* session = sight.session()) {
        for (const trends::BeyondGoal& beyond :
             trends::beyond_goals(trial, sight.now.plate->goals, *session)) {
            text(sight, trends::words_of(beyond));
        }
    }
    before_it(sight, trial.next_words);
    if (flow_press(sight, say("Keep this forecast"))) {
        sight.send(bench::command::KeepTrial{});
    }
    faint_text(sight, say("Kept, it is held against the next session's taps."));
    for (const std::string& caution : trial.cautions) {
        text(sight, caution);
    }
}

void TrialSheet::cut(const Sight& sight) {
    heading(sight, say("Try a cut on the model"));
    const auto& work = sight.now.work;
    if (!work || !work->study) {
        const bool is_busy = work && !work->doing.empty();
        text(sight, is_busy ? say("Fitting the model to this plate")
                    : work && !work->trouble.empty()
                        ? std::string_view(work->trouble)
                        : say("The model needs a thickness map: enter caliper readings under "
                              "Thickness."));
        return;
    }
    field(sight, say("Depth in the middle, mm"), depth_, 130.0);
    field(sight, say("Size of the place, mm across"), across_, 130.0);
    if (flow_press(sight, say("Try it at the cross"), {}, true)) {
        const auto depth = number_within(depth_, 0.01, 3.0, "mm");
        const auto across = number_within(across_, 15.0, 300.0, "mm");
        complaint_ = !at_      ? say("Click the place on the plate first.")
                     : !depth  ? say("Depth: 0.01 to 3 mm.")
                     : !across ? say("Size of the place: 15 to 300 mm.")
                               : std::string_view();
        if (at_ && depth && across) {
            sight.send(bench::command::TryCut{{*at_, *across, *depth}});
        }
    }
    if (!work->trial_trouble.empty()) {
        complaint(sight, work->trial_trouble);
    }
    if (const trends::CutTrial* trial = trial_of(sight)) {
        result(sight, *trial);
    }
}

void TrialSheet::side(const Sight& sight, const PlateSpot& spot) {
    faint_text(sight, at_ ? say("The cross: {}.", plate::place_text(*at_))
                          : std::string(say("Click a place on the plate. It is seen from the "
                                            "outside.")));
    if (!complaint_.empty()) {
        complaint(sight, complaint_);
    }
    away_.draw_back(sight);
    cut(sight);
    if (const ledger::SessionHistory* session = sight.session()) {
        weigh(sight, *session);
    }
    if (spot.clicked) { // last: the click itself takes the focus to the drawing
        at_ = spot.at;
        complaint_.clear();
        sight.owed = std::max(sight.owed, 2);
    }
}

} // namespace platewright::screen
