#include "plate/fit/fit_observer.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plate {

FitObserver::FitObserver(const PlateModel& model, const PlateWood& start,
                         std::span<const FitSession> sessions, const FitPriors& priors,
                         const std::function<bool()>& goes_on)
    : model_(model), start_(start), sessions_(sessions), priors_(priors), goes_on_(goes_on),
      states_(sessions.size()) {
    for (std::size_t s = 0; s < sessions.size(); ++s)
        for (std::size_t r = 0; r < sessions[s].weighings.size(); ++r)
            weighings_.push_back({s, r, 0.0, false});
}

Observations FitObserver::observe(const FitVector& unknowns) {
    rows_.clear();
    own_sd_.clear();
    slopes_.clear();
    places_.clear();
    const PlateGuess at = guess_at(start_, unknowns);
    for (std::size_t s = 0; s < sessions_.size(); ++s) {
        if (goes_on_ && !goes_on_())
            return {};
        observe_session(s, at);
    }
    Observations o;
    o.rows = rows_;
    if (!series_.rows.empty())
        o.series_shapes = series_.shapes;
    const auto n = static_cast<Eigen::Index>(rows_.size());
    o.measured.resize(n);
    o.modelled.resize(n);
    o.slope.resize(n, k_fit_unknowns);
    for (Eigen::Index i = 0; i < n; ++i) {
        const auto k = static_cast<std::size_t>(i);
        o.measured[i] = rows_[k].measured;
        o.modelled[i] = rows_[k].modelled;
        o.slope.row(i) = slopes_[k].transpose();
    }
    o.own = Eigen::Map<const Eigen::VectorXd>(own_sd_.data(), n).cwiseAbs2().asDiagonal();
    if (places_covariance_.size() == 0 && !places_.empty())
        places_covariance_ = covariance_of_places();
    if (places_covariance_.rows() == n)
        o.own += places_covariance_;
    for (const WeighedCheck& reading : weighings_) // counts less where it stands alone
        for (Eigen::Index i = 0; i < n; ++i)
            if (is_of(rows_[static_cast<std::size_t>(i)], reading))
                o.own.row(i) *= held_off(reading.deviations);
    return o;
}

Eigen::MatrixXd FitObserver::covariance(const Observations& o) const {
    const auto n = o.measured.size();
    Eigen::MatrixXd c = o.own;
    for (Eigen::Index i = 0; i < n; ++i)
        for (Eigen::Index j = 0; j < n; ++j) {
            const FitResidual& a = o.rows[static_cast<std::size_t>(i)];
            const FitResidual& b = o.rows[static_cast<std::size_t>(j)];
            if (a.row == FitRow::mode && b.row == FitRow::mode && a.number == b.number)
                c(i, j) += priors_.model * priors_.model * o.measured[i] * o.measured[j];
            if (a.row == FitRow::series && b.row == FitRow::series) {
                double shared = k_series_together * k_series_together;
                if (a.number == b.number)
                    shared += k_series_alone * k_series_alone;
                c(i, j) += shared * o.measured[i] * o.measured[j];
            }
        }
    return c;
}

void FitObserver::add(const FitResidual& row, double own_sd, const FitVector& slope) {
    rows_.push_back(row);
    own_sd_.push_back(own_sd);
    slopes_.push_back(slope);
}

void FitObserver::observe_session(std::size_t s, const PlateGuess& at) {
    const auto& session = sessions_[s];
    const FittedState& state = states_[s] =
        fitted_state(model_, at, session.thickness_mm, states_[s].modes.shapes);
    for (const auto& tapped : session.modes) {
        const int index = mode_index(state.names, tapped.number);
        if (index < 0 || index >= state.modes.frequency_hz.size())
            continue;
        add({FitRow::mode, s, 0, tapped.number, tapped.frequency_hz,
             state.modes.frequency_hz[index], 0.0},
            std::hypot(tapped.sd_hz, priors_.repeat * tapped.frequency_hz),
            state.by_unknown.col(index));
    }
    observe_series(s, state);
    if (session.mass_g) {
        FitVector slope = FitVector::Zero();
        slope[k_density] = state.mass_g;
        const double area_mm2 = model_.node_area_mm2().cwiseProduct(model_.stretch()).sum();
        slope[k_thickness] = 1e-6 * area_mm2 * at.wood.left.density_kg_m3;
        add({FitRow::mass, s, 0, 0, *session.mass_g, state.mass_g, 0.0},
            priors_.mass * *session.mass_g, slope);
    }
    const Eigen::VectorXd h = (session.thickness_mm.array() + at.thickness_mm).matrix();
    for (std::size_t r = 0; r < session.flexes.size(); ++r) {
        const FlexReading& flex = session.flexes[r];
        const FlexValue value = flex_value(model_, h, at.arch, at.wood, flex);
        add({FitRow::flex, s, r, 0, flex.deflection_mm, value.deflection_mm, 0.0},
            std::hypot(flex.sd_mm, priors_.flex * flex.deflection_mm), slope_of(value));
    }
    observe_weighings(s, at, state, h);
}

void FitObserver::observe_series(std::size_t s, const FittedState& state) {
    if (series_.rows.empty())
        return;
    const auto at = follow(model_, series_.shapes, state.modes.shapes);
    for (const Series::Row& row : series_.rows) {
        const int index = at[static_cast<std::size_t>(row.match.mode)];
        if (row.session != s || index < 0)
            continue;
        const HeardMode& heard = sessions_[s].heard[row.match.heard];
        add({FitRow::series, s, row.match.heard, row.match.mode + 1, heard.frequency_hz,
             state.modes.frequency_hz[index], 0.0},
            std::hypot(heard.sd_hz, priors_.repeat * heard.frequency_hz) /
                std::sqrt(row.match.probability),
            state.by_unknown.col(index));
    }
}

void FitObserver::match_heard(const FitMatrix& covariance) {
    series_ = {{}, states_.back().modes.shapes};
    const Eigen::MatrixXd factor = covariance.llt().matrixL();
    for (std::size_t s = 0; s < sessions_.size(); ++s) {
        if (sessions_[s].heard.empty())
            continue;
        const FittedState& state = states_[s];
        const Eigen::Index last = state.modes.frequency_hz.size() - 1;
        const auto at = follow(model_, series_.shapes, state.modes.shapes);
        const auto is_named = [&](int index) {
            return std::ranges::any_of(sessions_[s].modes, [&](const TappedMode& tapped) {
                return mode_index(state.names, tapped.number) == index;
            });
        };
        SeriesForetold foretold;
        std::vector<int> indices;
        for (std::size_t mode = 0; mode < at.size(); ++mode)
            if (at[mode] >= 0 && at[mode] < last && !is_named(at[mode])) {
                foretold.modes.push_back(static_cast<int>(mode));
                indices.push_back(at[mode]);
            }
        foretold.log_hz = state.modes.frequency_hz(indices).array().log();
        foretold.slope = (state.by_unknown(Eigen::all, indices) *
                          state.modes.frequency_hz(indices).cwiseInverse().asDiagonal())
                             .transpose();
        foretold.factor = factor;
        foretold.highest_hz = state.modes.frequency_hz[last];
        foretold.repeat = priors_.repeat;
        for (const SeriesMatch& match : match_series(foretold, sessions_[s].heard))
            series_.rows.push_back({s, match});
    }
}

FitVector slope_of(const FlexValue& value) {
    FitVector slope = FitVector::Zero();
    slope.head<k_wood_unknowns>() = value.by_wood_mm;
    slope.tail<k_arch_unknowns>() = value.by_arch_mm;
    slope[k_thickness] = value.by_thickness_mm;
    return slope;
}

void FitObserver::observe_weighings(std::size_t s, const PlateGuess& at, const FittedState& state,
                                    const Eigen::VectorXd& h) {
    std::vector<LaidMass> masses;
    std::vector<std::size_t> numbers;
    for (const WeighedCheck& reading : weighings_)
        if (reading.session == s && reading.is_used) {
            masses.push_back(sessions_[s].weighings[reading.reading].mass);
            numbers.push_back(reading.reading);
        }
    if (masses.empty())
        return;
    std::vector<int> indices;
    for (const std::size_t r : numbers)
        for (const WeighedShift& shift : sessions_[s].weighings[r].shifts)
            if (const int index = mode_index(state.names, shift.number);
                index >= 0 && index < state.modes.frequency_hz.size() &&
                std::find(indices.begin(), indices.end(), index) == indices.end())
                indices.push_back(index);
    const auto weighed =
        weighed_modes(model_, h, at.arch, at.wood, state.modes, masses, indices, true);
    for (std::size_t k = 0; k < numbers.size(); ++k)
        for (const WeighedShift& shift : sessions_[s].weighings[numbers[k]].shifts)
            for (const WeighedMode& mode : weighed[k])
                if (mode.index == mode_index(state.names, shift.number)) {
                    add({FitRow::weighed, s, numbers[k], shift.number, shift.log_ratio,
                         mode.log_ratio, 0.0},
                        std::hypot(shift.sd, weighed_model_sd(shift.number, mode.log_ratio,
                                                              masses[k].mass_g, state.mass_g)),
                        weighed_slope(mode, state.modes.frequency_hz[mode.index],
                                      state.by_unknown.col(mode.index)));
                    places_.push_back({rows_.size() - 1, mode.elsewhere});
                }
}

Eigen::MatrixXd FitObserver::covariance_of_places() const {
    const auto n = static_cast<Eigen::Index>(rows_.size());
    Eigen::MatrixXd c = Eigen::MatrixXd::Zero(n, n);
    for (const Place& a : places_)
        for (const Place& b : places_) {
            if (rows_[a.row].session != rows_[b.row].session ||
                rows_[a.row].reading != rows_[b.row].reading)
                continue;
            for (std::size_t k = 0; k < k_round; ++k)
                c(static_cast<Eigen::Index>(a.row), static_cast<Eigen::Index>(b.row)) +=
                    a.elsewhere[k] * b.elsewhere[k] / k_round;
        }
    return c;
}

FitVector weighed_slope(const WeighedMode& mode, double frequency_hz, const FitVector& by_unknown) {
    FitVector slope = -by_unknown / frequency_hz;
    slope.head<k_wood_unknowns>() += mode.by_wood;
    slope[k_density] += mode.by_density;
    slope[k_thickness] += mode.by_thickness_per_mm;
    slope.tail<k_arch_unknowns>() += mode.by_arch;
    return slope;
}

} // namespace platewright::plate
