#include "trends/air/moisture.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::trends {
namespace {

double cents_of_fraction(double fraction) { return 1200.0 * std::log2(1.0 + fraction); }

bool is_air(const Air& air) {
    return air.temperature_c >= -30.0 && air.temperature_c <= 120.0 && air.humidity_pct >= 0.0 &&
           air.humidity_pct <= 100.0;
}

} // namespace

std::optional<Air> air_of(const ledger::SessionRecord& session) {
    if (!session.temperature_c || !session.humidity_pct)
        return std::nullopt;
    const Air air{*session.temperature_c, *session.humidity_pct};
    return is_air(air) ? std::optional{air} : std::nullopt;
}

double equilibrium_moisture_pct(const Air& air) {
    const double t = air.temperature_c;
    if (!is_air(air))
        throw std::invalid_argument{"air is between -30 and 120 degrees C and 0 and 100 % humid"};
    const double h = air.humidity_pct / 100.0;
    const double W = 349.0 + 1.29 * t + 0.0135 * t * t;
    const double K = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    const double K1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    const double K2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    const double Kh = K * h;
    const double once = K1 * Kh;
    const double twice = K1 * K2 * Kh * Kh;
    return 1800.0 / W * (Kh / (1.0 - Kh) + (once + 2.0 * twice) / (1.0 + once + twice));
}

std::optional<double> moisture_pct_of(const ledger::SessionRecord& session) {
    const std::optional<Air> air = air_of(session);
    return air ? std::optional{equilibrium_moisture_pct(*air)} : std::nullopt;
}

const AirResponse& response_of(std::optional<int> number) {
    switch (number.value_or(0)) {
    case 1:
        return k_twist_response;
    case 2:
    case 5:
        return k_mixed_response;
    default:
        return k_any_response;
    }
}

Range cents_from_air(const Air& before, const Air& now, const AirResponse& response) {
    const double moisture = equilibrium_moisture_pct(now) - equilibrium_moisture_pct(before);
    const double degrees = now.temperature_c - before.temperature_c;
    const auto range = [](double change, const Range& per) {
        return Range{std::min(change * per.low, change * per.high),
                     std::max(change * per.low, change * per.high)};
    };
    const Range wet = range(moisture, response.per_moisture_pct);
    const Range warm = range(degrees, response.per_degree_c);
    return {cents_of_fraction(wet.low + warm.low), cents_of_fraction(wet.high + warm.high)};
}

} // namespace platewright::trends
