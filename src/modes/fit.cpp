#include "modes/fit.hpp"

#include "base/level.hpp"
#include "modes/prepared.hpp"
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

bool is_mode(const Partial& p, const PreparedChannel& channel, double decay_deviations) {
    return p.frequency_hz >= channel.plan.low_hz && p.frequency_hz < channel.plan.high_hz &&
           p.q >= k_least_q && p.q <= k_most_q && decay_deviations > k_sure_decay;
}

} // namespace

Fit fit_tap(const taps::Tap& tap, const FitParams& params) {
    Fit result;
    bool any_channel = false;
    for (const ChannelPlan& plan :
         plan_channels(tap.sample_rate_hz, params.low_hz, params.high_hz)) {
        const auto channel = prepare(tap, plan, params.skip_s);
        if (!channel)
            continue;
        any_channel = true;
        const auto most = static_cast<std::size_t>(std::max(1, params.most));
        const DampedFit fit = search_components(channel->white, channel->lines, {.most = most});
        const LocalNoise noise(channel->white, fit);
        for (std::size_t i = 0; i < fit.components.size(); ++i) {
            if (fit.components[i].steady)
                continue;
            const Estimate e = estimate(*channel, fit, i, noise);
            if (is_mode(e.partial, *channel, e.decay / e.decay_sd)) {
                result.partials.push_back(e.partial);
            }
        }
    }
    if (!any_channel) {
        result.status = FitStatus::too_short;
        return result;
    }
    keep_reportable(result.partials, params.floor_db, params.skip_s);
    result.status = result.partials.empty() ? FitStatus::no_ring : FitStatus::ok;
    return result;
}

} // namespace platewright::modes
