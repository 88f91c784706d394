#include "base/interval.hpp"
#include "modes/mode.hpp"
#include "plate/plan/plan.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

using wording::say;

std::string outcome_text(const PlanOutcome& o) {
    return say("{} from {} to {} \u00b1 {} Hz", modes::mode_text(o.number),
               wording::figure(o.now_hz, 1), wording::figure(o.after_hz, 1),
               wording::figure(base::plus_minus(o.after_sd_hz), 1));
}

std::string reached_text(const Plan& plan) {
    std::string text;
    for (const auto& o : plan.outcomes) {
        if (o.is_met())
            continue;
        if (!text.empty())
            text += "; ";
        text +=
            say("{} can't be brought to {} Hz, the nearest is {} Hz", modes::mode_text(o.number),
                wording::figure(o.want_hz, 1), wording::figure(o.after_hz, 1));
    }
    return text;
}

// What the arch's unknown shape costs, and the few heights that would help.
std::string heights_text(const NextMeasurement& read, const PlanOutcome& outcome) {
    std::string places;
    for (const Point& p : read.heights)
        places += (places.empty() ? "" : ", ") + wording::figure(p.y_mm, 0);
    const double width = base::plus_minus(outcome.after_sd_hz);
    return say("{}: its \u00b1 {} Hz would be \u00b1 {} Hz if the arch were known better. Read the "
               "height of the outside on the centre line, {} mm from the lower end, and type them "
               "with the plate's shape.",
               modes::mode_text(outcome.number), wording::figure(width, 1),
               wording::figure(read.remains * width, 1), places);
}

} // namespace

void describe(Plan& plan, const PlateFit& fit) {
    const std::string grams = wording::figure(plan.wood_g, 1);
    const std::string deepest = wording::figure(plan.deepest_mm, 2);
    const std::string thinnest = wording::figure(plan.thinnest_mm, 2);
    std::string outcomes;
    for (std::size_t k = 0; k < plan.outcomes.size(); ++k)
        outcomes += (k > 0 ? ", " : "") + outcome_text(plan.outcomes[k]);
    switch (plan.status) {
    case PlanStatus::modes_lost:
        plan.summary = say("A mode of the targets can't be followed on this plate by its shape: "
                           "no plan is offered.");
        return;
    case PlanStatus::nothing_to_do:
        plan.summary = say("The modes are where they should be: nothing needs to be taken.");
        return;
    case PlanStatus::not_reachable:
        if (plan.deepest_mm < k_no_removal_mm) {
            plan.summary = say("By thinning alone, within the limits, not all of this can be "
                               "reached: {}. No wood that may be taken brings it nearer.",
                               reached_text(plan));
            break;
        }
        plan.summary = say("By thinning alone, within the limits, not all of this can be reached: "
                           "{}. The nearest would take {} g, at most {} mm (the thinnest place "
                           "left is {} mm): {}.",
                           reached_text(plan), grams, deepest, thinnest, outcomes);
        for (const int number : plan.held)
            plan.summary +=
                " " + say("More would take {} below its goal.", modes::mode_text(number));
        break;
    case PlanStatus::ok:
        plan.summary = say("All targets can be reached by taking {} g, at most {} mm (the thinnest "
                           "place left is {} mm): {}.",
                           grams, deepest, thinnest, outcomes);
        break;
    }

    plan.cautions = {
        say("Wood taken off can't be put back. Take this pass only ({} g), then tap and plan "
            "again.",
            wording::figure(plan.pass_share * plan.wood_g, 1)),
        std::string(say("The figures after \u00b1 are intervals of 95 %, from what the taps "
                        "leave open about the wood and the arch; they count on the thickness map "
                        "and on a plate at the same humidity as before.")),
        std::string(say("The model knows nothing of sound: free-plate modes are an aim of the "
                        "maker's own choosing.")),
        std::string(say("Fix the work in a cradle and keep both hands behind the edge; local rules "
                        "and training decide.")),
        std::string(
            say("Wood dust can cause asthma and nasal cancer (IARC group 1): extract at the "
                "source, wear a mask, keep local limits."))};
    constexpr double k_asked_for = 0.8; // remaining deviation from which heights are asked for
    const auto heights =
        std::ranges::find(plan.next, MeasurementKind::heights, &NextMeasurement::kind);
    if (heights != plan.next.end() && heights->remains <= k_asked_for &&
        plan.deepest_mm >= k_no_removal_mm)
        for (const auto& o : plan.outcomes)
            if (o.number == heights->number)
                plan.cautions.insert(plan.cautions.begin() + 1, heights_text(*heights, o));
    if (fit.status == FitStatus::not_settled)
        plan.cautions.insert(
            plan.cautions.begin(),
            std::string(say("The fit did not settle: take its figures with care.")));
    if (!fit.is_plausible && !fit.doubt.empty())
        plan.cautions.insert(plan.cautions.begin(), say("Doubtful: {}", fit.doubt));
}

std::vector<PlanTarget> targets_from(std::span<const TappedMode> now,
                                     std::span<const TappedMode> reference, Likeness likeness) {
    const auto find = [](std::span<const TappedMode> modes, int number) {
        return std::find_if(modes.begin(), modes.end(),
                            [&](const auto& m) { return m.number == number; });
    };
    double scale = 1.0;
    if (likeness == Likeness::equal_ratio) {
        const auto mine = find(now, 2), theirs = find(reference, 2);
        if (mine == now.end() || theirs == reference.end())
            return {};
        scale = mine->frequency_hz / theirs->frequency_hz;
    }
    std::vector<PlanTarget> targets;
    for (const auto& mode : now) {
        const auto like = find(reference, mode.number);
        if (like != reference.end())
            targets.push_back({mode.number, mode.frequency_hz, scale * like->frequency_hz, 1.0});
    }
    return targets;
}

} // namespace platewright::plate
