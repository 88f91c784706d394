#pragma once
// What the maker of a true plate (true_plate.hpp) writes down: calipers off by 0.1 mm, hanging that
// moves a mode by 0.35 %, air of the room that wanders by 3 % of humidity; two thirds of the other
// modes are heard, and two sounds that are none.
#include "plate/thickness/thickness.hpp"
#include "trends/air/in_air.hpp"
#include "trends/decision/decision.hpp"
#include "trends/model/plate_form.hpp"
#include "true_plate.hpp"

namespace decides {

inline constexpr double k_map_mm = 34.0, k_caliper_mm = 0.1;
inline constexpr trends::Air k_usual_air{20.0, 45.0};
inline constexpr double k_wander_pct = 3.0;

inline double in_this_air(double hz, int number, const trends::Air& air) {
    return trends::hz_in_air(hz, number, k_usual_air, air);
}

/// Two thirds of the modes that bear no name, and two sounds that are none of the plate's.
inline void add_others(ledger::SessionHistory& one, const Truth& truth, double hung,
                       const trends::Air& air, std::mt19937& random) {
    const auto followed = follow(*truth.model, truth.first.shapes, truth.modes.shapes);
    std::vector<double> others;
    for (int k = 0; k < truth.first.frequency_hz.size(); ++k) {
        const int at = followed[static_cast<std::size_t>(k)];
        if (std::ranges::find(truth.index, k) == truth.index.end() && at >= 0 &&
            even(random, 0.0, 1.0) < 0.67)
            others.push_back(
                trends::hz_in_air(truth.modes.frequency_hz[at], std::nullopt, k_usual_air, air) *
                (1.0 + hung + 0.0025 * normal(random)));
    }
    for (int k = 0; k < 2; ++k)
        others.push_back(truth.first.frequency_hz[0] * std::pow(6.0, even(random, 0.0, 1.0)));
    for (const double hz : others) {
        ledger::ModeRecord mode;
        mode.mode.frequency_hz = hz;
        mode.mode.frequency_sd_hz = 0.1;
        mode.mode.spread_hz = 0.2;
        mode.mode.q = 60.0;
        mode.mode.taps = 4;
        one.modes.push_back(mode);
    }
}

/// A session as it is written down.
inline void add_session(ledger::PlateHistory& history, const Truth& truth, bool has_map,
                        std::mt19937& random) {
    ledger::SessionHistory one;
    one.session.id = static_cast<ledger::Id>(history.sessions.size()) + 1;
    one.session.begun = {1'700'000'000'000 + one.session.id * 86'400'000};
    one.session.stage = truth.stage;
    trends::Air air = k_usual_air;
    air.humidity_pct += k_wander_pct * normal(random);
    one.session.temperature_c = air.temperature_c;
    one.session.humidity_pct = air.humidity_pct;
    const double water = (100.0 + trends::equilibrium_moisture_pct(air)) /
                         (100.0 + trends::equilibrium_moisture_pct(k_usual_air));
    one.session.mass_g = std::round(10.0 * truth.mass_g() * water) / 10.0;
    if (has_map) {
        // Read where the truth is known: the nearest node's thickness.
        for (const Point p : grid_inside(truth.judged.outline, truth.size * k_map_mm)) {
            Eigen::Index nearest = 0;
            double least = 1e9;
            for (std::size_t i = 0; i < truth.model->nodes(); ++i) {
                const Point q = truth.model->points()[i];
                const double d = std::hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm);
                if (d < least)
                    least = d, nearest = static_cast<Eigen::Index>(i);
            }
            one.thickness.readings.push_back(
                {p, truth.thickness[nearest] + k_caliper_mm * normal(random), ""});
        }
    }
    const auto hz = truth.now_hz();
    const double hung = 0.0025 * normal(random); // alike for all modes, and each for itself
    std::mt19937 ear(random); // so that what else is heard leaves the rest as it is
    add_others(one, truth, hung, air, ear);
    for (std::size_t k = 0; k < 3; ++k) {
        const int number = std::array{1, 2, 5}[k];
        if (!std::isfinite(hz[k]))
            continue;
        ledger::ModeRecord mode;
        mode.mode.frequency_hz =
            in_this_air(hz[k], number, air) * (1.0 + hung + 0.0025 * normal(random));
        mode.mode.frequency_sd_hz = 0.1;
        mode.mode.spread_hz = 0.2;
        mode.mode.q = 60.0;
        mode.mode.taps = 5;
        mode.name = modes::ModeName{number, 1.0, false};
        one.modes.push_back(mode);
    }
    for (int t = 0; t < 5; ++t) {
        ledger::TapRecord tap;
        tap.verdict = taps::Verdict::accepted;
        one.taps.push_back(tap);
    }
    history.sessions.push_back(std::move(one));
}

inline ledger::PlateHistory new_plate(const Truth& truth, std::span<const trends::Goal> goals) {
    ledger::PlateHistory history;
    history.plate.part = truth.judged.is_top ? modes::Part::top : modes::Part::back;
    history.plate.label = "Trial";
    history.instrument.kind = truth.kind;
    history.form = trends::usual_form(history.instrument);
    history.form->species = truth.judged.is_top ? "norway_spruce" : "red_maple";
    history.form->arching.arch_mm = truth.model->form().arching.arch_mm;
    for (const trends::Goal& goal : goals)
        history.targets.push_back({.number = goal.number, .frequency_hz = goal.hz});
    return history;
}

} // namespace decides
