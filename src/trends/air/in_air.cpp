#include "trends/air/in_air.hpp"

#include "trends/air/moisture.hpp"

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

/// The share of a plate's mass that is left of it when its moisture goes from one to another.
double mass_factor(double was_pct, double is_pct) {
    return (1.0 + is_pct / 100.0) / (1.0 + was_pct / 100.0);
}

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
        const double factor = mass_factor(was, is);
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

void EarlierSessions::add(const ledger::SessionHistory& session) {
    if (session.modes.empty())
        return;
    modes::Earlier one{.modes = {}, .stage = session.session.stage};
    for (const ledger::ModeRecord& record : session.modes)
        one.modes.push_back({record.mode, record.name});
    earlier_.push_back(std::move(one));
    records_.push_back(session.session);
    records_.back().notes.clear();
}

std::span<const modes::Earlier> EarlierSessions::seen_from(const ledger::SessionRecord& now) {
    const std::optional<Air> air = air_of(now);
    for (std::size_t i = 0; i < earlier_.size(); ++i) {
        const std::optional<Air> then = air_of(records_[i]);
        modes::Earlier& one = earlier_[i];
        one.mass_g = records_[i].mass_g;
        one.log_air = 0.0;
        if (!air || !then)
            continue;
        const double is = equilibrium_moisture_pct(*air), was = equilibrium_moisture_pct(*then);
        if (one.mass_g)
            *one.mass_g *= mass_factor(was, is);
        const Range cents = cents_from_air(*then, *air, k_any_response);
        one.log_air = 0.5 * (cents.low + cents.high) * std::log(2.0) / 1200.0;
    }
    return earlier_;
}

} // namespace platewright::trends
