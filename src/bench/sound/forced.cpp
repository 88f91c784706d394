#include "bench/sound/forced.hpp"

#include <algorithm>

namespace platewright::bench {

std::optional<modes::ForceVerdict> Forced::add(const HeardTap& heard) {
    const taps::Tap& tap = heard.tap;
    if (!taps::counts(tap.verdict) || heard.force.samples.empty() ||
        heard.force.samples.size() != tap.samples.size() || tap.onset_index >= tap.samples.size())
        return std::nullopt;
    const Kind kind{tap.spot, tap.sample_rate_hz, heard.force.newton};
    const double newton = heard.force.newton > 0 ? heard.force.newton : 1.0;
    const auto at =
        spots_.try_emplace(kind, Strikes{modes::ResponseEstimate(kind.rate_hz, newton)}).first;
    const modes::ForceVerdict verdict = at->second.estimate.add(
        {.force = heard.force.samples, .heard = tap.samples, .onset = tap.onset_index});
    ++at->second.judged.at(static_cast<std::size_t>(verdict));
    return verdict;
}

std::vector<ForcedAnswer> Forced::answers(std::span<const modes::NamedMode> found) const {
    std::vector<ForcedAnswer> all;
    for (const auto& [kind, strikes] : spots_) {
        const modes::Response response = strikes.estimate.result();
        ForcedAnswer answer{.spot = kind.spot,
                            .newton = kind.newton,
                            .strikes = response.strikes,
                            .no_force = strikes.judged[1],
                            .clipped = strikes.judged[2],
                            .pushed_twice = strikes.judged[3],
                            .driven_to_hz = response.driven_to_hz};
        for (const modes::NamedMode& mode : found) {
            const double hz = mode.mode.frequency_hz;
            if (response.strikes == 0 || hz > response.driven_to_hz)
                continue;
            answer.modes.push_back({response.at(hz), mode.name ? mode.name->number : 0, hz});
        }
        std::ranges::sort(answer.modes, {}, &ForcedAnswer::AtMode::frequency_hz);
        all.push_back(std::move(answer));
    }
    return all;
}

} // namespace platewright::bench
