#include "modes/estimate/fit.hpp"

#include "base/level.hpp"
#include "modes/estimate/search.hpp"
#include "modes/ring/ring_test.hpp"
#include "modes/signal/prepared.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace platewright::modes {
namespace {

using std::numbers::pi;

constexpr double k_most_q = 30000.0; // metal bars reach some thousands
constexpr double k_sure_decay = 3.0; // deviations the decay must stand above zero

bool is_within(const ChannelPlan& plan, double frequency_hz) {
    return frequency_hz >= plan.low_hz && frequency_hz < plan.high_hz;
}

bool is_mode(const Partial& p, double decay_deviations) {
    return p.q >= k_least_mode_q && p.q <= k_most_q && decay_deviations > k_sure_decay;
}

/// One channel's modes, and what it says about the ring.
struct ChannelFit {
    std::vector<Partial> modes;
    std::vector<Partial> thumps; // die too soon to be modes
    RingEvidence evidence;
    double floor_db = 0;
    Reverberation room;
};

/// What the room makes longer is taken back, and what it does besides is added to what the fit says
/// of itself.
void take_off_room(Partial& p, const Reverberation& room, double heard_decay_per_s) {
    const double longer = lengthening(room), decay_per_s = heard_decay_per_s * longer;
    p.q /= longer;
    p.q_sd /= longer;
    p.frequency_sd_hz = std::hypot(p.frequency_sd_hz, frequency_deviation_hz(room, decay_per_s));
    p.q_sd = std::hypot(p.q_sd, decay_deviation(room, decay_per_s) * p.q);
}

/// Two modes of one decay beat, and by their phases the one pole that stands for both dies sooner
/// or later than they: by as much as it lies off in frequency. Half of that is a deviation
/// (docs/estimation-results.md, close pairs).
void widen_for_twin(Partial& p, const Estimate& e) {
    constexpr double of_decay = 0.5;
    p.q_sd = std::hypot(p.q_sd, of_decay * e.twin / e.decay * p.q);
}

ChannelFit fit_channel(const PreparedChannel& channel, std::size_t most) {
    const double offset = 2 * pi * channel.plan.offset_hz / channel.rate_hz;
    const DampedFit fit =
        search_components(channel.white, channel.lines, {.most = most, .offset = offset});
    const std::vector<double> left = ring_residual(channel.white, fit.components);
    const LocalNoise noise(left, fit);
    ChannelFit found;
    const HeardRoom heard = hear_room(
        {.contact = channel.contact,
         .left = left,
         .rate_hz = channel.rate_hz,
         .low = 2 * pi * (channel.plan.low_hz - channel.plan.offset_hz) / channel.rate_hz,
         .high = 2 * pi * (channel.plan.high_hz - channel.plan.offset_hz) / channel.rate_hz},
        fit.components);
    found.room = heard.room;
    // Steady lines, and what another channel tells, are no matter of this one.
    std::vector<Component> others;
    std::vector<FoundDecay> decays;
    for (std::size_t i = 0; i < fit.components.size(); ++i) {
        const Component& component = fit.components[i];
        Estimate e = component.steady ? Estimate{} : estimate(channel, fit, i, noise);
        if (component.steady || !is_within(channel.plan, e.partial.frequency_hz)) {
            others.push_back(component);
            continue;
        }
        if (component.pole.real() < 0.0)
            decays.push_back({component, e.partial});
        if (is_thump(component, offset)) // what decays alone can be one
            found.thumps.push_back(e.partial);
        if (!is_mode(e.partial, e.decay / e.decay_sd) || heard.is_rooms[i])
            continue;
        widen_for_twin(e.partial, e);
        if (heard.room.share > 0)
            take_off_room(e.partial, heard.room, e.decay);
        found.modes.push_back(e.partial);
    }
    found.evidence = weigh_ring(channel.white, left, channel.rate_hz, others, decays);
    found.floor_db = floor_change_db(channel.white, left, channel.rate_hz, fit);
    return found;
}

} // namespace

Fit fit_tap(const taps::Tap& tap, const FitParams& params) {
    Fit result;
    std::vector<Partial> thumps;
    result.status = FitStatus::too_short;
    double best = -std::numeric_limits<double>::infinity();
    for (const ChannelPlan& plan :
         plan_channels(tap.sample_rate_hz, params.low_hz, params.high_hz)) {
        const auto channel = prepare(tap, plan, params.skip_s);
        if (!channel)
            continue;
        const ChannelFit found =
            fit_channel(*channel, static_cast<std::size_t>(std::max(1, params.most)));
        result.partials.insert(result.partials.end(), found.modes.begin(), found.modes.end());
        thumps.insert(thumps.end(), found.thumps.begin(), found.thumps.end());
        if (ring_log_odds(found.evidence) < best)
            continue;
        best = ring_log_odds(found.evidence);
        result.evidence = found.evidence;
        result.input.floor_db = found.floor_db;
        result.input.room = found.room;
        result.input.untold = found.evidence.untold;
        result.status = FitStatus::no_ring;
    }
    if (result.status == FitStatus::no_ring && !result.partials.empty()) {
        if (is_ring(result.evidence))
            result.status = FitStatus::ok;
        else if (may_be_ring(result.evidence))
            result.status = FitStatus::doubtful;
    }
    if (result.status == FitStatus::too_short || result.status == FitStatus::no_ring) {
        result.partials.clear();
        return result;
    }
    keep_reportable(result.partials, params.floor_db, params.skip_s);
    result.input.bend = bend_of(tap, result.partials, thumps, params.skip_s);
    doubt_through(result.input, result.partials);
    return result;
}

} // namespace platewright::modes
