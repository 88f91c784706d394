#include "modes/ring/stranger.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace platewright::modes {
namespace {

constexpr std::size_t k_strongest = 8;
constexpr double k_compared_db = -30.0; // of the tap's strongest
constexpr double k_heard_db = -40.0; // of the other tap's strongest: weaker partials lie everywhere
constexpr double k_same =
    0.007; // re-hung, a plate repeats to half a percent (common practice, no source)
constexpr std::size_t k_least_others = 2;
constexpr double k_most_wood_q = 300; // half as much again as the least loss gives

bool lies_in(std::span<const Partial> other, double frequency_hz) {
    return std::any_of(other.begin(), other.end(), [&](const Partial& one) {
        return one.level_db > k_heard_db && std::abs(one.frequency_hz / frequency_hz - 1) < k_same;
    });
}

} // namespace

Agreement agreement(std::span<const std::span<const Partial>> others,
                    std::span<const Partial> tap) {
    std::vector<Partial> strongest(tap.begin(), tap.end());
    std::erase_if(strongest, [](const Partial& one) { return one.level_db < k_compared_db; });
    std::sort(strongest.begin(), strongest.end(),
              [](const Partial& a, const Partial& b) { return a.level_db > b.level_db; });
    strongest.resize(std::min(strongest.size(), k_strongest));
    Agreement found{.strong = static_cast<int>(strongest.size())};
    for (const Partial& one : strongest)
        if (std::any_of(others.begin(), others.end(),
                        [&](const auto& other) { return lies_in(other, one.frequency_hz); }))
            ++found.shared;
    return found;
}

bool outrings_wood(std::span<const Partial> tap) {
    double energy = 0, with_q = 0;
    for (const Partial& one : tap) { // of a decaying sinusoid: a^2 Q / f
        const double mine =
            std::pow(10.0, one.level_db / 10) * std::min(one.q, 1e4) / one.frequency_hz;
        energy += mine;
        with_q += mine * std::log(one.q);
    }
    return energy > 0 && with_q > energy * std::log(k_most_wood_q);
}

bool rings_like_none_of(std::span<const std::span<const Partial>> others,
                        std::span<const Partial> tap) {
    if (others.size() < k_least_others)
        return false;
    const Agreement found = agreement(others, tap);
    return found.strong > 0 && 3 * found.shared < found.strong;
}

} // namespace platewright::modes
