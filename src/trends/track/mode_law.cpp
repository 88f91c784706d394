#include "trends/track/mode_law.hpp"

#include "trends/air/moisture.hpp"
#include "trends/track/track.hpp"

#include <algorithm>
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

namespace {

// Modes of a plate of even thickness move as its mass (exponent 1); arching, which keeps its
// shape, holds them back.
constexpr double k_usual_exponent = 0.8;
constexpr double k_usual_exponent_sd = 0.3;
constexpr double k_measured_sd = 0.004; // of ln f: hanging and holding anew
// How far the level wanders: in every session; for wood taken, as a share of ln mass; for what is
// not known of a session; where the plate becomes another (f-holes, bar, post).
constexpr double k_wander = 0.002;
constexpr double k_placing_open = 0.1;
constexpr double k_unweighed = 0.006;   // likewise
constexpr double k_unknown_air = 0.004; // beside what all modes have in common
constexpr double k_air_open = 0.3;      // of what the air would do once the plate has settled
constexpr double k_new_shape = 0.06;
constexpr double k_most_sessions = 4.0; // of wandering
constexpr double k_odd = 3.0;           // deviations from which a session teaches ever less

double middle(const Range& range) { return 0.5 * (range.low + range.high); }
double half_width(const Range& range) { return 0.5 * (range.high - range.low); }

} // namespace

ModeLaw::ModeLaw(const Conditions& first, double frequency_hz, const AirResponse& response,
                 bool follows_mass)
    : mean_{std::log(frequency_hz), k_usual_exponent, middle(response.per_moisture_pct),
            middle(response.per_degree_c)},
      last_{first}, log_mass_origin_{first.log_dry_mass}, follows_mass_{follows_mass} {
    const State sd{k_measured_sd, k_usual_exponent_sd, half_width(response.per_moisture_pct),
                   half_width(response.per_degree_c)};
    covariance_ = sd.cwiseAbs2().asDiagonal();
    const State from_origin = row(first);
    mean_[0] -= first.log_common + from_origin.tail<3>().dot(mean_.tail<3>());
}

// Moisture and temperature count from usual values, so that the level is one in usual air.
ModeLaw::State ModeLaw::row(const Conditions& session) const {
    constexpr double k_usual_moisture = 9.0, k_usual_temperature = 20.0;
    const double mass = follows_mass_ && session.shape == last_.shape
                            ? session.log_dry_mass - log_mass_origin_
                        : follows_mass_ ? last_.log_dry_mass - log_mass_origin_
                                        : 0.0;
    return {1.0, mass, session.moisture_pct - k_usual_moisture,
            session.temperature_c - k_usual_temperature};
}

double ModeLaw::wandering(const Conditions& session, std::size_t sessions_since) const {
    const double sessions = std::min(static_cast<double>(sessions_since), k_most_sessions);
    double variance = sessions * k_wander * k_wander;
    const auto add = [&](double sd) { variance += sd * sd; };
    const State moved = row(session) - row(last_);
    if (follows_mass_) {
        add(k_placing_open * moved[1]);
        if (!session.is_weighed || !last_.is_weighed)
            add(k_unweighed);
    }
    if (!session.is_air_known || !last_.is_air_known)
        add(k_unknown_air);
    add(k_air_open * (mean_[2] * moved[2] + mean_[3] * moved[3]));
    if (session.shape != last_.shape)
        add(k_new_shape);
    return variance;
}

ModeLaw::Foreseen ModeLaw::foresee(const Conditions& session, std::size_t sessions_since) const {
    const State at = row(session);
    const double variance = at.dot(covariance_ * at) + wandering(session, sessions_since) +
                            k_measured_sd * k_measured_sd;
    return {at.dot(mean_) + session.log_common, std::sqrt(variance)};
}

void ModeLaw::learn(const Conditions& session, std::size_t sessions_since, double frequency_hz) {
    const State at = row(session);
    covariance_(0, 0) += wandering(session, sessions_since);
    const double missed = std::log(frequency_hz) - session.log_common - at.dot(mean_);
    const double foreseen = at.dot(covariance_ * at) + k_measured_sd * k_measured_sd;
    const double oddness = std::abs(missed) / (k_odd * std::sqrt(foreseen));
    // What lies far off is a wet day or another step: the level follows it, the law does not learn.
    if (oddness > 1.0)
        covariance_(0, 0) += foreseen * (oddness * oddness - 1.0);
    const double all = at.dot(covariance_ * at) + k_measured_sd * k_measured_sd;
    const State gain = covariance_ * at / all;
    mean_ += gain * missed;
    covariance_ -= gain * (at.transpose() * covariance_).eval();
    covariance_ = (0.5 * (covariance_ + covariance_.transpose())).eval();
    if (session.shape != last_.shape)
        log_mass_origin_ += session.log_dry_mass - last_.log_dry_mass;
    last_ = session;
}

} // namespace platewright::trends
