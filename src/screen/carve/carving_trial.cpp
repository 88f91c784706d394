#include "plate/shape/spots.hpp"
#include "screen/bench/weighing_words.hpp"
#include "screen/carve/carving_sheet.hpp"
#include "screen/fields/fields.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace platewright::screen {
namespace {

const trends::CutTrial* trial_of(const ViewContext& context) {
    return context.now.work && context.now.work->trial ? context.now.work->trial.get() : nullptr;
}

std::string shift_words(const plate::ShiftForecast& f) {
    return wording::signed_with_range(f.shift_hz, f.shift_sd_hz, 1) + " Hz";
}

} // namespace

plot::PlatePicture TrialSheet::picture(const ViewContext& context) const {
    plot::PlatePicture picture = outline_shown(context);
    if (const ledger::SessionHistory* session = context.session()) {
        for (const ledger::WeighingRecord& w : session->weighings) {
            picture.marks.push_back(
                {{w.at.x_mm, w.at.y_mm},
                 figure(w.mass_g, 1) + " g",
                 plot::Shape::disc,
                 context.now.plate->weighing && context.now.plate->weighing->record.id == w.id});
        }
    }
    if (const trends::CutTrial* trial = trial_of(context)) {
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

void TrialSheet::kept(const ViewContext& context, const ledger::SessionHistory& session) {
    const auto& at_hand = context.now.plate->weighing;
    const auto& work = context.now.work;
    for (const trends::WeighingReview& review :
         trends::weighings_of(session, work ? work->study.get() : nullptr)) {
        const ledger::WeighingRecord& w = review.record;
        if (at_hand && at_hand->record.id == w.id && is_under_way(*at_hand)) {
            continue; // said above, with what ends it
        }
        text(context, say("{} g, {}", figure(w.mass_g, 2), plate::place_text(w.at)));
        for (const trends::WeighedModeShift& shift : review.shifts) {
            text(context, words_of(shift));
        }
        if (review.is_modelled && !review.is_used) {
            faint_text(context,
                       say("left out: {} deviations off the model", figure(review.deviations, 1)));
        }
        ImGui::PushID(static_cast<int>(w.id));
        if (flow_press(context, say("Take this weighing out"))) {
            away_.put(context, "weighing", w.id, std::string(ledger::to_text(w.thing)));
        }
        ImGui::PopID();
    }
}

void TrialSheet::weigh(const ViewContext& context, const ledger::SessionHistory& session) {
    heading(context, say("Weigh the modes here"));
    const auto& at_hand = context.now.plate->weighing;
    if (at_hand && is_under_way(*at_hand)) {
        if (at_ == at_hand->record.at) { // the mass is drawn there now
            at_.reset();
        }
        const WeighingWords words = words_of(*at_hand);
        text(context, words.step + ". " + words.sentence);
        if (flow_press(context, say("Leave this weighing off"))) {
            context.send(bench::command::EndWeighing{});
        }
        kept(context, session);
        return;
    }
    weighing_.draw_fields(context, complaint_, false);
    if (flow_press(context, say("Weigh at the cross"))) {
        auto weighing = weighing_.typed();
        complaint_ = !at_       ? Complaint{say("Click the place on the plate first.")}
                     : weighing ? Complaint{}
                                : Complaint{weighing.fault().what, weighing.at};
        if (complaint_.empty()) {
            weighing->at = *at_;
            context.send(bench::command::BeginWeighing{*weighing}); // refused, the cross is left
        }
    }
    faint_text(
        context,
        say("A hundredth of the plate's mass, weighed to 0.02 g, leaves no mark. Tap bare, with "
            "it, bare again; the plate stays where it hangs. Which is which is heard."));
    kept(context, session);
}

void TrialSheet::result(const ViewContext& context, const trends::CutTrial& trial) {
    text(context, trial.record.summary);
    text(context, say("It takes {} g and leaves {} mm.", figure(trial.wood_g, 2),
                      figure(trial.thinnest_mm, 2)));
    for (const plate::ShiftForecast& f : trial.shifts) {
        fact(context, modes::mode_text(f.number), shift_words(f));
        for (const plate::ShiftForecast& before : trial.by_taps) {
            if (before.number == f.number) {
                fact(context, say("by taps alone"), shift_words(before));
            }
        }
    }
    for (const trends::BeyondGoal& beyond : trends::beyond_goals(trial, context.now.plate->goals)) {
        text(context, trends::words_of(beyond));
    }
    before_it(context, trial.next_words);
    if (flow_press(context, say("Keep this forecast"))) {
        context.send(bench::command::KeepTrial{});
    }
    faint_text(context, say("Kept, it is held against the next session's taps."));
    for (const std::string& caution : trial.cautions) {
        text(context, caution);
    }
}

void TrialSheet::cut(const ViewContext& context) {
    heading(context, say("Try a cut on the model"));
    const auto& work = context.now.work;
    if (!work || !work->study) {
        const bool is_busy = work && !work->doing.empty();
        text(context,
             is_busy ? say("Fitting the model to this plate")
             : work && !work->trouble.empty()
                 ? std::string_view(work->trouble)
                 : say("The model needs a thickness map: enter caliper readings under Thickness."));
        return;
    }
    field(context, say("Depth in the middle, mm"), depth_.text, 130.0);
    field(context, say("Size of the place, mm across"), across_.text, 130.0);
    if (flow_press(context, say("Try it at the cross"), {}, true)) {
        const auto depth = number_within(depth_.text, ledger::k_cut_depth);
        const auto across = number_within(across_.text, ledger::k_cut_across);
        complaint_ = {std::string(!at_      ? say("Click the place on the plate first.")
                                  : !depth  ? say("Depth: 0.01 to 3 mm.")
                                  : !across ? say("Size of the place: 15 to 300 mm.")
                                            : std::string_view())};
        if (at_ && depth && across) {
            context.send(bench::command::TryCut{{*at_, *across, *depth}});
        }
    }
    if (!work->trial_trouble.empty()) {
        complaint(context, work->trial_trouble);
    }
    if (const trends::CutTrial* trial = trial_of(context)) {
        result(context, *trial);
    }
}

/// A hundredth of the plate for the mass, in half grams as measurements are proposed; a place as
/// wide on this plate as 60 mm are on a violin's.
void TrialSheet::fill_in(const ViewContext& context) {
    const ledger::PlateHistory& history = context.now.plate->history;
    if (plate_ == history.plate.id) {
        return;
    }
    plate_ = history.plate.id;
    const ledger::SessionHistory* session = context.session();
    const auto& work = context.now.work;
    const auto weighed = session != nullptr ? session->session.mass_g : std::nullopt;
    const double plate_g = weighed               ? *weighed
                           : work && work->study ? work->study->state.mass_g
                                                 : 100.0;
    weighing_ = RecordFields<ledger::WeighingRecord>(
        {.mass_g = std::max(0.5, std::round(0.02 * plate_g) / 2.0)});
    depth_ = {0.2, 1};
    across_ = {in_proportion(history, 60.0, 5.0), 0};
}

void TrialSheet::side(const ViewContext& context, const PlateSpot& spot) {
    fill_in(context);
    faint_text(context, at_ ? say("The cross: {}.", plate::place_text(*at_))
                            : say("Click a place on the plate. It is seen from the outside."));
    complaint(context, complaint_);
    away_.draw_back(context);
    cut(context);
    if (const ledger::SessionHistory* session = context.session()) {
        weigh(context, *session);
    }
    if (spot.clicked) { // last: the click itself takes the focus to the drawing
        at_ = spot.at;
        complaint_.clear();
        context.owed = std::max(context.owed, 2);
    }
}

} // namespace platewright::screen
