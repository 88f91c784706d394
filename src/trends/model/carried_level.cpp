#include "trends/model/carried_level.hpp"

#include "plate/plan/sensitivity.hpp"
#include "trends/model/plate_now.hpp"
#include "trends/review/pass_review.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::say;

constexpr std::size_t k_most_passes = 3; // what lies farther back tells next to nothing
constexpr double k_stands_off = 3.0;     // deviations

/// Wood that came off between two sessions, at the nodes.
struct Pass {
    Eigen::VectorXd mm;
    Eigen::MatrixXd covariance; // none where no map tells the place
};

/// The scales know how much came off, the maps where: conditioned on the grams, where both agree.
void heed_scales(plate::TakenWood& taken, const Eigen::VectorXd& g_per_mm, double grams,
                 double sd_g) {
    const Eigen::VectorXd with = taken.covariance * g_per_mm;
    const double variance = g_per_mm.dot(with) + sd_g * sd_g;
    const double off = grams - g_per_mm.dot(taken.mm);
    if (off * off > k_stands_off * k_stands_off * variance)
        return;
    taken.mm += with * (off / variance);
    taken.covariance -= with * with.transpose() / variance;
}

Pass pass_between(const ledger::PlateHistory& history, const PlateStudy& study, std::size_t from,
                  std::size_t to) {
    plate::TakenWood taken = taken_since(history, study, from, to);
    const auto &before_g = history.sessions[from].session.mass_g,
               &after_g = history.sessions[to].session.mass_g;
    if (before_g && after_g)
        heed_scales(taken, study.model->wood_g_per_mm(study.fit.wood), *before_g - *after_g,
                    0.5 * k_scales_share * *after_g);
    return {std::move(taken.mm), std::move(taken.covariance)};
}

/// What a pass did to the named modes: a variance that the maps leave is added to the fit's.
std::vector<plate::ShiftForecast> shifts_of(const Pass& pass, const PlateStudy& study,
                                            const plate::FittedState& before,
                                            const plate::FittedState& after,
                                            const Eigen::MatrixXd& gradient,
                                            std::span<const int> numbers) {
    auto shifts = plate::forecast_shifts(*study.model, study.fit, before, after, numbers);
    for (plate::ShiftForecast& shift : shifts) {
        const int index = plate::mode_index(study.state.names, shift.number);
        double by_maps_hz = 0.0;
        if (pass.covariance.size() == 0)
            by_maps_hz = k_place_share * study.carried->open_share * shift.now_hz;
        else if (index >= 0 && index < gradient.cols()) {
            const Eigen::VectorXd slope = gradient.col(index);
            by_maps_hz = std::sqrt(std::max(0.0, slope.dot(pass.covariance * slope)));
        }
        shift.shift_sd_hz = std::hypot(shift.shift_sd_hz, by_maps_hz);
    }
    return shifts;
}

Level joined(const Level& before, const Level& now) {
    const double of_before = before.sd_hz * before.sd_hz, of_now = now.sd_hz * now.sd_hz;
    const double apart = now.hz - before.hz;
    if (apart * apart > k_stands_off * k_stands_off * (of_before + of_now))
        return now;
    const double variance = 1.0 / (1.0 / of_before + 1.0 / of_now);
    return {variance * (before.hz / of_before + now.hz / of_now), std::sqrt(variance),
            before.sessions + 1};
}

using Shifts = std::vector<plate::ShiftForecast>;

/// What each pass did to the study's modes, the newest first.
std::vector<Shifts> shifts_of_passes(const ledger::PlateHistory& history, const PlateStudy& study) {
    const plate::PlateModel& model = *study.model;
    std::vector<int> numbers;
    for (const ModeNow& mode : study.modes)
        numbers.push_back(mode.number);
    const Eigen::MatrixXd gradient =
        plate::thinning_gradient(model, study.thickness_mm.array() + study.fit.thickness_mm,
                                 study.fit.arch, study.fit.wood, study.state.modes);
    std::vector<Shifts> shifts;
    plate::FittedState after = study.state;
    Eigen::VectorXd thickness_mm = study.thickness_mm;
    for (std::size_t k = study.fitted.size() - 1; k > 0 && shifts.size() < k_most_passes; --k) {
        const std::size_t from = study.fitted[k - 1], to = study.fitted[k];
        const bool is_carried = study.carried && to == study.now;
        if (is_carried && from != study.session)
            break; // the map's own session has no modes
        const Pass pass =
            is_carried ? Pass{study.carried->taken_mm, {}} : pass_between(history, study, from, to);
        thickness_mm += pass.mm;
        plate::FittedState before =
            plate::fitted_state(model, study.fit, thickness_mm, after.modes.shapes);
        shifts.push_back(shifts_of(pass, study, before, after, gradient, numbers));
        after = std::move(before);
    }
    return shifts;
}

/// Where the sessions before the newest have a mode, carried on to it; nothing where they tell
/// nothing of it. `shifts`: the newest pass first.
std::optional<Level> carried(int number, const ledger::PlateHistory& history,
                             const PlateStudy& study, std::span<const Shifts> shifts) {
    std::optional<Level> level;
    for (std::size_t back = shifts.size(); back > 0; --back) {
        const std::size_t session = study.fitted[study.fitted.size() - 1 - back];
        if (const auto* tapped = find_mode(history.sessions[session].modes, number))
            level = level ? joined(*level, level_of(tapped->mode)) : level_of(tapped->mode);
        const Shifts& pass = shifts[back - 1];
        const auto shift = std::ranges::find(pass, number, &plate::ShiftForecast::number);
        if (shift == pass.end())
            level.reset(); // it can't be followed through this pass
        else if (level)
            level = Level{level->hz + shift->shift_hz, std::hypot(level->sd_hz, shift->shift_sd_hz),
                          level->sessions};
    }
    return level;
}

} // namespace

void carry_levels(const ledger::PlateHistory& history, PlateStudy& study) {
    if (!study.fit.is_plausible || study.fitted.size() < 2 || study.fitted.back() != study.now)
        return;
    const std::vector<Shifts> shifts = shifts_of_passes(history, study);
    std::string counted_from;
    int most_sessions = 1;
    for (ModeNow& mode : study.modes) {
        const auto level = carried(mode.number, history, study, shifts);
        if (!level)
            continue;
        mode.level = joined(*level, mode.level);
        counted_from += (counted_from.empty() ? "" : ", ") + modes::mode_text(mode.number) + " " +
                        wording::figure(mode.level.hz, 1) + " Hz";
        most_sessions = std::max(most_sessions, mode.level.sessions);
    }
    if (most_sessions > 1)
        study.rests_on.push_back(say("A plan counts from the last {} sessions, carried on by what "
                                     "came off since: {}.",
                                     most_sessions, counted_from));
}

} // namespace platewright::trends
