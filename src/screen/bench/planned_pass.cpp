#include "screen/bench/planned_pass.hpp"

#include "screen/bench/decision_strip.hpp"
#include "screen/bench/struck_plate.hpp"
#include "screen/draw/parts.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "trends/review/pass_review.hpp"

#include <algorithm>
#include <utility>

namespace platewright::screen {
namespace {
using plot::Box;

constexpr double k_worth_words = 0.1;                           // of the pass's wood
constexpr double k_least_letters = 17.0, k_most_letters = 34.0; // of the picture: its contours' are
constexpr double k_letters_of_height = 0.075;                   // a fifth smaller
constexpr double k_least_picture = 300.0; // height; what has no room beside it is counted

/// The pass that the decision is about, where the model was asked for it; else what was planned in
/// this session.
const ledger::PlanRecord* plan_of(const ViewContext& context) {
    const auto& work = context.now.work;
    if (context.now.plate->decision.by_model && work && work->next && work->next->plan) {
        return &work->next->plan->record;
    }
    const ledger::SessionHistory* session = context.session();
    return session != nullptr && session->plan ? &*session->plan : nullptr;
}

std::shared_ptr<const trends::PlateStudy> study_of(const ViewContext& context) {
    const auto& work = context.now.work;
    const bool its_own =
        work && work->of.history.plate.id == context.now.plate->history.plate.id && work->study;
    return its_own ? work->study : nullptr;
}

} // namespace

bool PlannedPass::is_due(const ViewContext& context) const {
    const trends::Advice advice = context.now.plate->decision.advice;
    const bool may_take = advice == trends::Advice::take || advice == trends::Advice::weigh ||
                          advice == trends::Advice::set_goal;
    return may_take && !waits_for_microphone(context) && !waits_for_model(context) &&
           plan_of(context) != nullptr;
}

void PlannedPass::follow(const ViewContext& context) {
    asked_.keep(context);
    const auto study = study_of(context);
    const ledger::PlanRecord& plan = *plan_of(context);
    const trends::Decision& decision = context.now.plate->decision;
    const double named_g = decision.by_model ? decision.take_g : 0.0;
    if (!study || (study == study_ && plan == plan_ && named_g == named_g_ &&
                   wording::spoken() == language_)) {
        study_ = study ? study_ : nullptr;
        return;
    }
    study_ = study;
    plan_ = plan;
    named_g_ = named_g;
    language_ = wording::spoken();
    trouble_.clear();
    zones_.clear();
    const ledger::PlateHistory& history = context.now.plate->history;
    auto pass_mm = trends::pass_as_planned(plan, *study, history.instrument.kind);
    if (!pass_mm) {
        trouble_ = say("Not drawn here: {}.",
                       say("it was made with limits of its own, which were not kept"));
        return;
    }
    if (named_g > 0.0) { // the sentence's grams, laid out so
        *pass_mm *= named_g / std::max(1e-9, plan.pass_share * plan.wood_g);
    }
    picture_ = pass_from_inside(*study->model, *pass_mm, history.form && history.form->two_piece);
    picture_.title.clear(); // it stands above, as large as it has room for
    sides_ = sides_of(history.plate.part, study->model->form().bar, true);
    zones_ = trends::told_together(
        trends::seen_from_inside(trends::plan_zones(*study->model, *pass_mm, study->fit.wood)));
    pass_g_ = named_g > 0.0 ? named_g : plan.pass_share * plan.wood_g;
    std::erase_if(zones_,
                  [this](const auto& zone) { return zone.wood_g < k_worth_words * pass_g_; });
    std::ranges::stable_sort(zones_, std::ranges::greater{}, &trends::PlanZone::wood_g);
    if (!zones_.empty()) {
        rim_mm_ = plate::distance_mm(study->model->form().outline.rim, zones_.front().deepest);
    }
}

std::vector<std::string> PlannedPass::sentences(const ViewContext& context) const {
    std::vector<std::string> all;
    if (trends::is_of_older_model(plan_)) {
        all.emplace_back(say("by an earlier version of the model"));
    }
    const trends::Decision& decision = context.now.plate->decision;
    if (decision.advice == trends::Advice::take && decision.take_g < pass_g_ - 0.05) {
        all.push_back(say("All of the pass is {} g: of that {} g at most, then tap again.",
                          figure(pass_g_, 1), figure(decision.take_g, 1)));
    }
    for (std::size_t i = 0; i < zones_.size(); ++i) {
        all.push_back(zones_[i].name + ": " +
                      say("mean {} mm, deepest {}", figure(zones_[i].mean_mm, 2),
                          figure(zones_[i].deepest_mm, 2)));
        if (i == 0) {
            all.back() += "; " + say("the deepest place {} mm from the edge", figure(rim_mm_, 0));
        }
    }
    if (named_g_ > 0.0) {
        return all; // the lanes say where the modes are to come to
    }
    for (const plate::PlanOutcome& mode : plan_.modes) {
        all.push_back(modes::mode_text(mode.number) + ": " + figure(mode.now_hz, 1) + " Hz, " +
                      std::string(say("after the next pass")) + " " +
                      wording::with_range(mode.pass_hz, mode.pass_sd_hz, 1));
    }
    return all;
}

void PlannedPass::draw(const ViewContext& context, Box box, const OwnOutline& outline) {
    follow(context);
    const double scale = context.look.scale;
    const plot::Palette& p = context.palette();
    ImguiCanvas canvas = context.canvas();
    const bool drawn = study_ && trouble_.empty();
    // How much, not where: one place in large letters, beside a sentence that names two, would be
    // scraped alone. Where is what the drawing is for.
    large_line(context,
               !drawn           ? say("Next pass")
               : named_g_ > 0.0 ? say("{} g at most, here", figure(pass_g_, 1))
                                : say("Next pass: {} g", figure(pass_g_, 1)),
               take_top(box, 40.0 * scale));
    if (!study_ || !trouble_.empty()) {
        const auto& work = context.now.work;
        const std::string why = study_                         ? trouble_
                                : work && !work->doing.empty() ? work->doing
                                : work                         ? work->trouble
                                                               : std::string();
        box.top += paragraph(canvas, why, box, k_body * scale, p.ink) + 6.0 * scale;
        draw_plate(canvas, context.look, box, outline, std::nullopt, 0, false);
        return;
    }
    line(canvas, sides_, take_top(box, 24.0 * scale),
         {.colour = p.ink,
          .height = fitting(canvas, sides_, box.width(), plot::Weight::bold,
                            {k_lead * scale, k_body * scale, k_small * scale}),
          .weight = plot::Weight::bold});
    const std::vector<std::string> all = sentences(context);
    const double room = box.height() - k_least_picture * scale;
    double used = 0.0;
    std::size_t said = 0;
    for (; said < all.size(); ++said) {
        const double more = paragraph_height(canvas, all[said], box.width(), k_body * scale);
        const double owed = said + 1 < all.size() ? 22.0 * scale : 0.0; // the line that counts
        if (used + more + owed > room) {
            break;
        }
        used += more;
    }
    const bool counts = said < all.size();
    Box below = take_bottom(box, used + (counts ? 22.0 * scale : 0.0));
    for (std::size_t i = 0; i < said; ++i) {
        below.top += paragraph(canvas, all[i], below, k_body * scale, p.ink);
    }
    if (counts) {
        line(canvas, say("{} more", all.size() - said) + " (F8)", below,
             {.colour = p.ink, .height = k_small * scale});
    }
    take_bottom(box, 6.0 * scale);
    // A legend would take the letters' room: the figures stand on the places themselves.
    picture_.has_legend = false;
    plot::draw(picture_, box, canvas, p,
               {.text_height = std::clamp(k_letters_of_height * box.height(),
                                          k_least_letters * scale, k_most_letters * scale),
                .line_scale = scale});
}

} // namespace platewright::screen
