#include "modes/pool/crowding.hpp"

#include <algorithm>
#include <cmath>
#include <vector>

namespace platewright::modes {
namespace {

// Learnt on four groups of sessions by a synthesiser that shares nothing with ours, held on eight
// others (docs/estimation-results.md, "Modes that stand close").
constexpr double k_neighbours_cost = 1.4;
constexpr double k_closest = 2.5; // closer they are joined, or one is the other's shadow

} // namespace

double crowding(std::span<const Mode> modes, std::size_t i) {
    const double width_hz = modes[i].frequency_hz / modes[i].q;
    double sum = 0;
    for (std::size_t k = 0; k < modes.size(); ++k) {
        const double distance_hz = std::abs(modes[k].frequency_hz - modes[i].frequency_hz);
        if (k != i)
            sum += std::pow(width_hz / std::max(distance_hz, width_hz / k_closest), 2);
    }
    return std::min(k_closest, std::sqrt(sum));
}

void widen_for_neighbours(std::span<Mode> modes) {
    std::vector<double> factors;
    for (std::size_t i = 0; i < modes.size(); ++i)
        factors.push_back(std::hypot(1, k_neighbours_cost * crowding(modes, i)));
    for (std::size_t i = 0; i < modes.size(); ++i) {
        modes[i].frequency_sd_hz *= factors[i];
        modes[i].q_sd *= factors[i];
    }
}

} // namespace platewright::modes
