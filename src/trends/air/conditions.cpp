#include "trends/air/conditions.hpp"

#include "trends/air/moisture.hpp"

#include <cmath>
#include <optional>

namespace platewright::trends {
namespace {

// Of a session before any was weighed or any air read: any value will do, it is the same in all.
constexpr double k_any_mass_g = 100.0;
constexpr Air k_any_air{20.0, 50.0};

template <class Get>
auto first_known(const ledger::PlateHistory& history, Get get)
    -> decltype(get(history.sessions.front().session)) {
    for (const ledger::SessionHistory& one : history.sessions)
        if (const auto known = get(one.session))
            return known;
    return std::nullopt;
}

std::optional<double> mass_of(const ledger::SessionRecord& session) {
    return session.mass_g && *session.mass_g > 0.0 ? session.mass_g : std::nullopt;
}

} // namespace

int shape_of(modes::Part part, modes::Stage stage) {
    if (part == modes::Part::back)
        return 0;
    if (part == modes::Part::body)
        return stage == modes::Stage::set_up ? 4 : 3;
    switch (stage) {
    case modes::Stage::f_holes_cut:
        return 1;
    case modes::Stage::bar_fitted:
    case modes::Stage::finished:
    case modes::Stage::closed:
    case modes::Stage::varnished:
    case modes::Stage::set_up:
        return 2;
    default:
        return 0;
    }
}

std::vector<Conditions> conditions_of(const ledger::PlateHistory& history) {
    std::vector<Conditions> all;
    double mass_g = first_known(history, mass_of).value_or(k_any_mass_g);
    Air air = first_known(history, air_of).value_or(k_any_air);
    for (const ledger::SessionHistory& one : history.sessions) {
        const std::optional<double> weighed = mass_of(one.session);
        const std::optional<Air> read = air_of(one.session);
        mass_g = weighed.value_or(mass_g);
        air = read.value_or(air);
        const double moisture = equilibrium_moisture_pct(air);
        all.push_back({.shape = shape_of(history.plate.part, one.session.stage),
                       .log_dry_mass = std::log(mass_g) - std::log1p(moisture / 100.0),
                       .moisture_pct = moisture,
                       .temperature_c = air.temperature_c,
                       .is_weighed = weighed.has_value(),
                       .is_air_known = read.has_value()});
    }
    return all;
}

} // namespace platewright::trends
