#include "main/paper/sheet_contents.hpp"

#include "base/failure.hpp"
#include "main/question.hpp"
#include "screen/draw/pictures.hpp"
#include "screen/draw/plate_pictures.hpp"
#include "trends/model/plan_zones.hpp"
#include "trends/review/pass_review.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace platewright::cli {

namespace {

/// Draws the pass of a plan of now, by the model that it was made on; says why where it can't be.
void draw_pass(report::PlanOnPaper& plan, const ledger::PlateHistory& history,
               std::size_t session) {
    const auto study = trends::study_plate(history, session);
    if (!study) {
        plan.trouble = study.fault().what;
        return;
    }
    plan.doubt = study->fit.is_plausible ? std::string() : study->fit.doubt;
    const plate::PlateModel& model = *study->model;
    const auto pass_mm = trends::pass_as_planned(plan.record, *study, history.instrument.kind);
    if (!pass_mm) {
        plan.trouble = wording::say("it was made with limits of its own, which were not kept");
        return;
    }
    plan.picture = screen::pass_from_inside(model, *pass_mm, history.form->two_piece);
    plan.zones = trends::seen_from_inside(trends::plan_zones(model, *pass_mm, study->fit.wood));
}

std::optional<report::PlanOnPaper> plan_of(const ledger::PlateHistory& history) {
    const auto planned = std::find_if(history.sessions.rbegin(), history.sessions.rend(),
                                      [](const auto& session) { return session.plan.has_value(); });
    if (planned == history.sessions.rend())
        return std::nullopt;
    report::PlanOnPaper plan;
    plan.record = *planned->plan;
    const base::Timestamp newest = history.sessions.back().session.begun;
    if (newest > plan.record.made)
        plan.tapped_since = newest;
    else
        draw_pass(plan, history, static_cast<std::size_t>(history.sessions.rend() - planned) - 1);
    return plan;
}

} // namespace

report::PlateSheet sheet_of(ledger::PlateHistory history,
                            std::optional<trends::Comparison> comparison, std::string reference) {
    report::PlateSheet sheet;
    sheet.history = std::move(history);
    sheet.comparison = std::move(comparison);
    static_cast<trends::PlateReport&>(sheet) = trends::report_with_model(
        question_on(sheet.history, sheet.comparison ? &*sheet.comparison : nullptr));
    sheet.reference = std::move(reference);
    sheet.chart = screen::drift_picture(sheet.history, sheet,
                                        sheet.comparison ? &*sheet.comparison : nullptr);
    const auto mapped =
        sheet.history.sessions.empty()
            ? std::nullopt
            : trends::session_with_map(sheet.history, sheet.history.sessions.size() - 1);
    if (auto review = mapped ? trends::review_map(sheet.history, *mapped) : base::Fault{"no map"}) {
        sheet.map_picture = screen::thickness_picture(*review, sheet.history.form->two_piece);
        sheet.map = *std::move(review);
    }
    sheet.plan = plan_of(sheet.history);
    return sheet;
}

report::WoodSheet wood_sheet_of(ledger::WoodHistory history, std::vector<std::string> plates,
                                const std::optional<WoodNamed>& beside,
                                std::optional<double> moisture_pct) {
    report::WoodSheet sheet{std::move(history), {}, std::move(plates), {}};
    sheet.figures = trends::wood_figures(sheet.history, moisture_pct);
    if (beside) {
        report::WoodBeside other{
            beside->label, trends::wood_figures(beside->history, moisture_pct), {}, {}};
        constexpr double k_percent = 100.0;
        other.share = trends::thickness_for(sheet.figures, other.figures, k_percent);
        const auto likenesses = trends::nearest({&sheet.figures, 1}, other.figures);
        if (!likenesses.empty())
            other.likeness = likenesses.front();
        sheet.beside = std::move(other);
    }
    return sheet;
}

namespace {

/// The clearest accepted tap of each spot (it stands highest over the room), spots in their order,
/// so that sessions can be compared by ear at one spot; those without a spot last.
std::vector<ledger::TapRecord> clearest(const ledger::SessionHistory& session, std::size_t most) {
    const auto above = [](const ledger::TapRecord& tap) { return tap.peak_dbfs - tap.noise_dbfs; };
    std::map<std::pair<bool, taps::Spot>, ledger::TapRecord> best;
    for (const ledger::TapRecord& tap : session.taps) {
        if (!taps::counts(tap.verdict) || tap.recording.empty())
            continue;
        const auto [at, is_new] =
            best.try_emplace({tap.spot == taps::Spot::unknown, tap.spot}, tap);
        if (!is_new && above(tap) > above(at->second))
            at->second = tap;
    }
    std::vector<ledger::TapRecord> chosen;
    for (const auto& [spot, tap] : best)
        if (chosen.size() < most)
            chosen.push_back(tap);
    return chosen;
}

} // namespace

report::RecordPage record_of(const ledger::Store& store, const ledger::InstrumentRecord& instrument,
                             std::size_t sounds) {
    report::RecordPage page;
    page.version = PLATEWRIGHT_VERSION;
    page.sheet.instrument = instrument;
    for (const ledger::InstrumentSummary& one : store.overview())
        if (one.instrument.id == instrument.id)
            for (const ledger::PlateSummary& plate : one.plates)
                page.sheet.plates.push_back(
                    sheet_of(store.history(plate.plate.id).value(), std::nullopt, {}));
    for (const report::PlateSheet& plate : page.sheet.plates)
        for (const ledger::SessionHistory& session : plate.history.sessions)
            for (const ledger::TapRecord& tap : clearest(session, sounds)) {
                try {
                    page.taps.push_back({session.session.id, tap.spot, store.load(tap)});
                } catch (const base::Failure&) { // check names it; the page goes without
                }
            }
    return page;
}

std::string file_name_of(const std::string& label) {
    std::string name = label;
    std::replace_if(
        name.begin(), name.end(),
        [](char c) {
            return std::string_view("/\\:*?\"<>|").find(c) != std::string_view::npos ||
                   static_cast<unsigned char>(c) < ' ';
        },
        '-');
    return name.empty() || name.front() == '.' ? "sheet" + name : name;
}

} // namespace platewright::cli
