#include "trends/drift/reach.hpp"

#include <cmath>

namespace platewright::trends {

double chance_past(const RobustLine& line, double left, double log_target) {
    const double below = line.chance_below(std::log(left), log_target);
    return line.slope() > 0.0 ? below : 1.0 - below;
}

double amount_to_reach(const RobustLine& line, double present, double log_target, double chance) {
    const auto reached = [&](double gone) {
        return chance_past(line, present - gone, log_target) >= chance;
    };
    if (reached(0.0))
        return 0.0;
    // In steps first: beyond the data the interval widens, and the chance may fall again.
    constexpr int k_steps = 400;
    double none = 0.0;
    for (int i = 1; i < k_steps; ++i) {
        double enough = present * i / k_steps;
        if (!reached(enough)) {
            none = enough;
            continue;
        }
        for (int halving = 0; halving < 40; ++halving) {
            const double middle = 0.5 * (none + enough);
            (reached(middle) ? enough : none) = middle;
        }
        return enough;
    }
    return present;
}

} // namespace platewright::trends
