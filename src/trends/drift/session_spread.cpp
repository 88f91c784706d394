#include "trends/drift/session_spread.hpp"

#include "base/interval.hpp"

#include <cmath>

namespace platewright::trends {

double session_sd_hz(const modes::Mode& mode) {
    return std::hypot(mode.frequency_sd_hz, k_hold_share * mode.frequency_hz);
}

bool is_at(double goal_hz, const modes::Mode& mode) {
    return mode.frequency_hz <= goal_hz + base::plus_minus(session_sd_hz(mode));
}

double difference_sd_hz(const modes::Mode& a, const modes::Mode& b) {
    return std::hypot(session_sd_hz(a), session_sd_hz(b));
}

} // namespace platewright::trends
