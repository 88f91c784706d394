#include "base/text.hpp"
#include "modes/mode.hpp"
#include "plate/plan.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

std::string outcome_text(const PlanOutcome& o) {
    return modes::mode_text(o.number) + " from " + base::fixed(o.now_hz, 1) + " to " +
           base::fixed(o.after_hz, 1) + " \u00b1 " + base::fixed(2.0 * o.after_sd_hz, 1) + " Hz";
}

std::string reached_text(const Plan& plan) {
    std::string text;
    for (const auto& o : plan.outcomes) {
        if (o.is_met)
            continue;
        if (!text.empty())
            text += "; ";
        text += modes::mode_text(o.number) + " can't be brought to " + base::fixed(o.want_hz, 1) +
                " Hz, the nearest is " + base::fixed(o.after_hz, 1) + " Hz";
    }
    return text;
}

} // namespace

void describe(Plan& plan, const PlateFit& fit, const PlanLimits& limits) {
    switch (plan.status) {
    case PlanStatus::modes_lost:
        plan.summary =
            "A mode of the targets can't be followed on this plate by its shape: no plan "
            "is offered.";
        return;
    case PlanStatus::nothing_to_do:
        plan.summary = "The modes are where they should be: nothing needs to be taken.";
        return;
    case PlanStatus::not_reachable:
        plan.summary = "By thinning alone, within the limits, not all of this can be reached: " +
                       reached_text(plan) + ". The nearest would take ";
        break;
    case PlanStatus::ok:
        plan.summary = "All targets can be reached by taking ";
        break;
    }
    plan.summary += base::fixed(plan.wood_g, 1) + " g, at most " + base::fixed(plan.deepest_mm, 2) +
                    " mm (the thinnest place left is " + base::fixed(plan.thinnest_mm, 2) +
                    " mm): ";
    for (std::size_t k = 0; k < plan.outcomes.size(); ++k)
        plan.summary += (k > 0 ? ", " : "") + outcome_text(plan.outcomes[k]);
    plan.summary += ".";

    plan.cautions = {
        "Wood taken off can't be put back. Take this pass only (" +
            base::fixed(100.0 * limits.pass_share, 0) +
            " % of the whole), then tap and plan again.",
        "The figures after \u00b1 are two standard deviations, from what the taps leave open about "
        "the wood; they count on the thickness map and on a plate at the same humidity as before.",
        "The model knows nothing of sound: free-plate modes are an aim of the maker's own "
        "choosing.",
        "Fix the work in a cradle and keep both hands behind the edge; local rules and training "
        "decide.",
        "Wood dust can cause asthma and nasal cancer (IARC group 1): extract at the source, wear a "
        "mask, keep local limits."};
    if (!fit.is_plausible && !fit.doubt.empty())
        plan.cautions.insert(plan.cautions.begin(), "Doubtful: " + fit.doubt);
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
