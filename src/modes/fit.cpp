#include "modes/fit.hpp"

#include "base/level.hpp"
#include "modes/prepared.hpp"
#include "modes/ring_test.hpp"
#include "modes/search.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace platewright::modes {
namespace {

using std::numbers::pi;

constexpr double k_least_q = 6.0;    // a thump or the hold, not a vibration of wood
constexpr double k_most_q = 30000.0; // metal bars reach some thousands
constexpr double k_sure_decay = 3.0; // deviations the decay must stand above zero

bool is_within(const ChannelPlan& plan, double frequency_hz) {
    return frequency_hz >= plan.low_hz && frequency_hz < plan.high_hz;
}

bool is_mode(const Partial& p, double decay_deviations) {
    return p.q >= k_least_q && p.q <= k_most_q && decay_deviations > k_sure_decay;
}

} // namespace

Fit fit_tap(const taps::Tap& tap, const FitParams& params) {
    Fit result;
    bool any_channel = false;
    RingTest ring;
    for (const ChannelPlan& plan :
         plan_channels(tap.sample_rate_hz, params.low_hz, params.high_hz)) {
        const auto channel = prepare(tap, plan, params.skip_s);
        if (!channel)
            continue;
        any_channel = true;
        const auto most = static_cast<std::size_t>(std::max(1, params.most));
        const DampedFit fit = search_components(channel->white, channel->lines, {.most = most});
        const LocalNoise noise(channel->white, fit);
        // Steady lines, and what another channel tells, are no matter of this one.
        std::vector<Component> others, modes;
        for (std::size_t i = 0; i < fit.components.size(); ++i) {
            const Component& component = fit.components[i];
            const Estimate e = component.steady ? Estimate{} : estimate(*channel, fit, i, noise);
            if (component.steady || !is_within(plan, e.partial.frequency_hz)) {
                others.push_back(component);
            } else if (is_mode(e.partial, e.decay / e.decay_sd)) {
                result.partials.push_back(e.partial);
                modes.push_back(component);
                ring.add_mode(component, e.partial);
            }
        }
        if (!channel->white.before.empty())
            ring.add_channel(channel->white, channel->rate_hz, fit, others, modes);
    }
    if (!any_channel) {
        result.status = FitStatus::too_short;
        return result;
    }
    if (ring.passed())
        keep_reportable(result.partials, params.floor_db, params.skip_s);
    else
        result.partials.clear();
    result.status = result.partials.empty() ? FitStatus::no_ring : FitStatus::ok;
    return result;
}

} // namespace platewright::modes
