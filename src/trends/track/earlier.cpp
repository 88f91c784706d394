#include "trends/track/earlier.hpp"

#include "trends/air/moisture.hpp"

#include <cmath>

namespace platewright::trends {

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
            *one.mass_g *= (1.0 + is / 100.0) / (1.0 + was / 100.0);
        const Range cents = cents_from_air(*then, *air, k_any_response);
        one.log_air = 0.5 * (cents.low + cents.high) * std::log(2.0) / 1200.0;
    }
    return earlier_;
}

} // namespace platewright::trends
