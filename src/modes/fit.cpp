#include "modes/fit.hpp"

#include "base/level.hpp"
#include "modes/prepared.hpp"
#include "modes/search.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace platewright::modes {
namespace {

using std::numbers::pi;

constexpr double k_least_q = 6.0;    // a thump or the hold, not a vibration of wood
constexpr double k_most_q = 30000.0; // metal bars reach some thousands
constexpr double k_sure_decay = 3.0; // deviations the decay must stand above zero
// Of what sounds over the room, the share its modes may leave untold, and the mean Q they must have by energy. Of 857
// simulated strikes 20 dB over the floor or more, 99 % left at most 0.08 (0.14 at 20 dB), with Q 30 and more; speech
// that passed for a ring in all else left 0.15 to 0.9, and thumps had Q 13 to 27 (docs/detection-results.md).
// Real bars of wood leave up to 0.09. Metal, which no voice is like, may glide and beat as it likes.
constexpr double k_most_untold = 0.17, k_least_mean_q = 16.0, k_metal_mean_q = 1000.0;

bool is_within(const ChannelPlan& plan, double frequency_hz) {
    return frequency_hz >= plan.low_hz && frequency_hz < plan.high_hz;
}

bool is_mode(const Partial& p, double decay_deviations) {
    return p.q >= k_least_q && p.q <= k_most_q && decay_deviations > k_sure_decay;
}

/// How much of a ring its modes tell, all channels together. Energies are of whitened samples, whose room has 1 each.
class Telling {
public:
    void add_mode(const Component& mode, double q) {
        modes_ += ring_energy(mode);
        modes_q_ += ring_energy(mode) * q;
    }
    void add_channel(const Stretches& data, const std::vector<Component>& others, const std::vector<Component>& others_and_modes) {
        const auto over_room = [&](const std::vector<double>& samples) {
            return std::max(0.0, std::inner_product(samples.begin(), samples.end(), samples.begin(), 0.0) -
                                     static_cast<double>(samples.size()));
        };
        ring_ += over_room(others.empty() ? data.ring : ring_residual(data, others));
        untold_ += over_room(ring_residual(data, others_and_modes));
    }
    bool is_a_ring() const {
        const double mean_q = modes_ > 0 ? modes_q_ / modes_ : 0;
        return mean_q >= k_least_mean_q && (mean_q > k_metal_mean_q || untold_ <= k_most_untold * ring_);
    }

private:
    double ring_ = 0, untold_ = 0, modes_ = 0, modes_q_ = 0;
};

} // namespace

Fit fit_tap(const taps::Tap& tap, const FitParams& params) {
    Fit result;
    bool any_channel = false;
    Telling telling;
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
                telling.add_mode(component, e.partial.q);
            }
        }
        modes.insert(modes.end(), others.begin(), others.end());
        // Without quiet before it, what stands over the room can't be told from the room.
        if (!channel->white.before.empty())
            telling.add_channel(channel->white, others, modes);
    }
    if (!any_channel) {
        result.status = FitStatus::too_short;
        return result;
    }
    if (telling.is_a_ring())
        keep_reportable(result.partials, params.floor_db, params.skip_s);
    else
        result.partials.clear();
    result.status = result.partials.empty() ? FitStatus::no_ring : FitStatus::ok;
    return result;
}

} // namespace platewright::modes
