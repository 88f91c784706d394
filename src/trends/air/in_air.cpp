#include "trends/air/in_air.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

constexpr double k_factor_open = 0.3; // of a shift
constexpr double k_root_3 = 1.7320508;

struct Shift {
    double factor = 1.0;
    double sd = 0.0; // of the factor
};

Shift shift_of(const Air& then, const Air& air, const AirResponse& response) {
    const Range cents = cents_from_air(then, air, response);
    const double low = std::exp2(cents.low / 1200.0), high = std::exp2(cents.high / 1200.0);
    const double factor = 0.5 * (low + high);
    return {factor, std::hypot(0.5 * (high - low) / k_root_3, k_factor_open * (factor - 1.0))};
}

SetOver set_over(ledger::SessionHistory& session, const Air& then, const Air& air) {
    const double was = equilibrium_moisture_pct(then), is = equilibrium_moisture_pct(air);
    SetOver done{is - was, {}, {}};
    if (auto& mass = session.session.mass_g) {
        const double factor = (1.0 + is / 100.0) / (1.0 + was / 100.0);
        done.mass_sd_g = std::abs(k_factor_open * (factor - 1.0) * *mass);
        *mass *= factor;
        done.mass_g = mass;
    }
    for (ledger::ModeRecord& record : session.modes) {
        const Shift shift =
            shift_of(then, air,
                     response_of(record.name ? std::optional{record.name->number} : std::nullopt));
        modes::Mode& mode = record.mode;
        const double own_sd = mode.frequency_hz * shift.sd;
        mode.frequency_hz *= shift.factor;
        mode.frequency_sd_hz = std::hypot(mode.frequency_sd_hz, own_sd);
        mode.spread_hz = std::hypot(mode.spread_hz, own_sd);
    }
    return done;
}

} // namespace

double hz_in_air(double hz, std::optional<int> number, const Air& then, const Air& air) {
    return hz * shift_of(then, air, response_of(number)).factor;
}

HistoryInAir in_air(const ledger::PlateHistory& history, const Air& air) {
    HistoryInAir result{history, {}};
    for (ledger::SessionHistory& session : result.history.sessions) {
        const std::optional<Air> then = air_of(session.session);
        if (!then) {
            result.sessions.emplace_back();
            continue;
        }
        result.sessions.emplace_back(set_over(session, *then, air));
        session.session.temperature_c = air.temperature_c;
        session.session.humidity_pct = air.humidity_pct;
    }
    return result;
}

} // namespace platewright::trends
