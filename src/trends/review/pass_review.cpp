#include "trends/review/pass_review.hpp"

#include "base/interval.hpp"
#include "plate/plan/sensitivity.hpp"
#include "trends/air/in_air.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/review/map_review.hpp"
#include "trends/track/track.hpp"
#include "wording/say.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <cmath>
#include <random>

namespace platewright::trends {
namespace {

constexpr double k_same_place_mm = 0.5;
// A figure that the readings leave more open than this, by its interval of 95 %, tells nothing:
// half a pass more or less, or half the way from laid out just so to anyhow (our own choice).
constexpr double k_untold = 0.5;

std::vector<plate::FieldReading> field_readings(const ledger::MapRecord& map) {
    std::vector<plate::FieldReading> readings;
    for (const plate::ThicknessReading& r : map.readings)
        readings.push_back({r.at, r.thickness_mm});
    return readings;
}

/// Likeness to the plan of the wood most probably taken. Nothing where what the readings leave
/// possible differs too much in it.
std::optional<double> likeness(const plate::TakenWood& taken, const Eigen::VectorXd& planned,
                               const Eigen::VectorXd& area) {
    constexpr int k_draws = 200;
    const auto centred = [&](const Eigen::VectorXd& mm) {
        return Eigen::VectorXd(mm.array() - area.dot(mm) / area.sum());
    };
    const auto inner = [&](const Eigen::VectorXd& u, const Eigen::VectorXd& v) {
        return area.dot(u.cwiseProduct(v));
    };
    const Eigen::VectorXd plan = centred(planned);
    if (!(inner(plan, plan) > 0.0))
        return std::nullopt;
    // A tenth of a micrometre, squared, lest rounding leave some variance below nothing.
    constexpr double k_hair_mm2 = 1e-8;
    Eigen::MatrixXd covariance = taken.covariance;
    covariance.diagonal().array() += k_hair_mm2;
    const Eigen::LLT<Eigen::MatrixXd> factor(covariance);
    if (factor.info() != Eigen::Success)
        return std::nullopt;
    const Eigen::MatrixXd spread = factor.matrixL();
    std::mt19937 random(1); // the same maps are to give the same figure
    std::normal_distribution<double> normal;
    const auto likeness_of = [&](const Eigen::VectorXd& mm) {
        const Eigen::VectorXd one = centred(mm);
        return inner(one, plan) / std::sqrt(inner(one, one) * inner(plan, plan));
    };
    double sum = 0.0, square = 0.0;
    for (int k = 0; k < k_draws; ++k) {
        const Eigen::VectorXd off =
            Eigen::VectorXd::NullaryExpr(planned.size(), [&] { return normal(random); });
        const double like = likeness_of(taken.mm + spread * off);
        sum += like / k_draws;
        square += like * like / k_draws;
    }
    const double sd = std::sqrt(std::max(0.0, square - sum * sum));
    return base::plus_minus(sd) <= k_untold ? std::optional(likeness_of(taken.mm)) : std::nullopt;
}

/// Adds what the wood taken leaves open in each shift, and leaves out the modes of which that is
/// more than the pass moved them and more than hanging the plate anew does.
void widen_by_maps(std::vector<plate::ShiftForecast>& forecast, const PlateStudy& study,
                   const plate::TakenWood& taken) {
    const Eigen::VectorXd thickness = study.thickness_mm.array() + study.fit.thickness_mm;
    const Eigen::MatrixXd gradient = plate::thinning_gradient(
        *study.model, thickness, study.fit.arch, study.fit.wood, study.state.modes);
    std::erase_if(forecast, [&](plate::ShiftForecast& f) {
        const Eigen::VectorXd slope = gradient.col(plate::mode_index(study.state.names, f.number));
        const double by_maps_hz = std::sqrt(std::max(0.0, slope.dot(taken.covariance * slope)));
        f.shift_sd_hz = std::hypot(f.shift_sd_hz, by_maps_hz);
        const double by_hanging_hz = plate::FitPriors{}.repeat * f.now_hz;
        return base::plus_minus(by_maps_hz) >
               std::max(std::abs(f.shift_hz), base::plus_minus(by_hanging_hz));
    });
}

/// Sessions up to `last` that have a plan, the one made last first.
std::vector<std::size_t> newest_plans(const ledger::PlateHistory& history, std::size_t last) {
    std::vector<std::size_t> planned;
    for (std::size_t i = 0; i < history.sessions.size() && i <= last; ++i)
        if (history.sessions[i].plan)
            planned.insert(planned.begin(), i);
    std::ranges::stable_sort(planned, std::ranges::greater{}, [&](std::size_t i) {
        return history.sessions[i].plan->made.ms_since_epoch;
    });
    return planned;
}

/// The first session with modes that was begun after the plan of another was made: what was tapped
/// before can't have come of it.
std::optional<std::size_t> first_after(const ledger::PlateHistory& history, std::size_t planned,
                                       std::size_t last) {
    const base::Timestamp made = history.sessions[planned].plan->made;
    for (std::size_t i = planned + 1; i < history.sessions.size() && i <= last; ++i)
        if (history.sessions[i].session.begun > made && !tapped_modes(history.sessions[i]).empty())
            return i;
    return std::nullopt;
}

/// All sessions in the air of one, where it is known.
ledger::PlateHistory in_air_of(const ledger::PlateHistory& measured, std::size_t session) {
    const std::optional<Air> air = air_of(measured.sessions[session].session);
    return air ? in_air(measured, *air).history : measured;
}

} // namespace

double reach_mm(modes::InstrumentKind kind) { return usual_limits(kind).field.width_mm; }

plate::TakenWood taken_between(const PlateStudy& study, const ledger::MapRecord& before,
                               const ledger::MapRecord& after, const plate::TakenPrior& taken) {
    return plate::taken_wood(field_readings(before), field_readings(after),
                             study.map->field().prior(), taken, study.model->points());
}

bool is_of_older_model(const ledger::PlanRecord& plan) {
    return plan.model_version != k_model_version;
}

std::optional<PlannedPass> planned_pass(const ledger::PlanRecord& plan,
                                        const plate::PlateModel& model,
                                        modes::InstrumentKind kind) {
    plate::StrokeField field = usual_limits(kind).field;
    field.symmetric = std::any_of(plan.strokes.begin(), plan.strokes.end(),
                                  [](const auto& s) { return s.mirrored; });
    PlannedPass pass{plate::RemovalBasis(model, field), {}};
    const auto& strokes = pass.basis.strokes();
    pass.depths_mm = Eigen::VectorXd::Zero(std::ssize(strokes));
    for (const plate::Stroke& stroke : plan.strokes) {
        const auto like = std::find_if(strokes.begin(), strokes.end(), [&](const auto& s) {
            return std::hypot(s.middle.x_mm - stroke.middle.x_mm,
                              s.middle.y_mm - stroke.middle.y_mm) < k_same_place_mm;
        });
        if (like == strokes.end())
            return std::nullopt;
        pass.depths_mm[like - strokes.begin()] = plan.pass_share * stroke.depth_mm;
    }
    return pass;
}

std::optional<Eigen::VectorXd> pass_as_planned(const ledger::PlanRecord& plan,
                                               const PlateStudy& study,
                                               modes::InstrumentKind kind) {
    constexpr double k_same_share = 0.1, k_same_g = 0.05;
    const plate::PlateModel& model = *study.model;
    const auto pass = planned_pass(plan, model, kind);
    auto pass_mm = pass ? std::optional(pass->at_nodes()) : std::nullopt;
    const double planned_g = plan.pass_share * plan.wood_g;
    if (pass_mm) {
        const double taken_g = model.mass_g(study.thickness_mm, study.fit.wood) -
                               model.mass_g(study.thickness_mm - *pass_mm, study.fit.wood);
        if (std::abs(taken_g - planned_g) > k_same_share * planned_g + k_same_g) {
            pass_mm.reset();
        }
    }
    return pass_mm;
}

std::optional<PlanHindsight> hindsight_of(const ledger::PlateHistory& measured, std::size_t last) {
    for (const std::size_t planned : newest_plans(measured, last)) {
        const auto after = first_after(measured, planned, last);
        if (!after)
            continue;
        const ledger::PlateHistory history = in_air_of(measured, planned);
        const ledger::SessionHistory &before = history.sessions[planned],
                                     &is = history.sessions[*after];
        const auto shape = [&](const ledger::SessionHistory& session) {
            return shape_of(history.plate.part, session.session.stage);
        };
        if (shape(before) != shape(is))
            return std::nullopt; // a plan foresees wood taken, not f-holes or a bar
        PlanHindsight result;
        result.planned = planned;
        result.after = *after;
        result.is_in_one_air = air_of(before.session) && air_of(measured.sessions[*after].session);
        const ledger::PlanRecord& plan = *before.plan;
        result.pass_g = plan.pass_share * plan.wood_g;
        if (before.session.mass_g && is.session.mass_g)
            result.taken_g = *before.session.mass_g - *is.session.mass_g;
        std::vector<plate::ShiftForecast> forecast;
        std::vector<plate::TappedMode> was;
        for (const plate::PlanOutcome& m : plan.modes) {
            forecast.push_back({m.number, m.now_hz, m.pass_hz, m.pass_hz - m.now_hz, m.pass_sd_hz});
            was.push_back({m.number, m.now_hz, 0.0});
        }
        result.modes = plate::hindsight(forecast, was, tapped_modes(is), {}, result.is_in_one_air);
        return result;
    }
    return std::nullopt;
}

wording::Facts facts_of(const PlanHindsight& hindsight, const ledger::PlateHistory& history) {
    using wording::figure, wording::say;
    wording::Facts told;
    const auto tell_modes = [&](const std::vector<plate::Hindsight>& modes) {
        for (const plate::Hindsight& mode : modes)
            told.emplace_back("", mode.text);
    };
    const auto& plan = history.sessions.at(hindsight.planned).plan;
    if (plan && is_of_older_model(*plan))
        told.emplace_back("", say("by an earlier version of the model"));
    if (hindsight.taken_g)
        told.emplace_back(say("planned, by the scales"), figure(hindsight.pass_g, 1) + " g, " +
                                                             figure(*hindsight.taken_g, 1) + " g");
    tell_modes(hindsight.modes);
    if (!hindsight.carved)
        return told;
    const CarvedPass& carved = *hindsight.carved;
    told.emplace_back(say("off by the next map"),
                      wording::with_range(carved.map_g, carved.map_sd_g, 1) + " g");
    if (carved.times)
        told.emplace_back(say("as deep as planned"),
                          say("{} times", wording::with_range(*carved.times, carved.times_sd, 2)));
    if (carved.likeness)
        told.emplace_back(say("laid out like the plan"),
                          say("{} (1: just so)", figure(*carved.likeness, 2)));
    if (!carved.times && !carved.likeness)
        told.emplace_back(
            "", say("The two maps leave open how the pass was laid out: read at the same places "
                    "before and after, and closer together."));
    if (!carved.modes.empty())
        told.emplace_back("", say("For the wood that the maps say was really taken:"));
    tell_modes(carved.modes);
    return told;
}

void review_carving(const ledger::PlateHistory& measured, PlanHindsight& hindsight,
                    const Progress& progress, const plate::MeasuredWood& billet) {
    const ledger::PlateHistory history = in_air_of(measured, hindsight.planned);
    const ledger::SessionHistory& before = history.sessions.at(hindsight.planned);
    const ledger::SessionHistory& after = history.sessions.at(hindsight.after);
    if (before.thickness.readings.empty() || after.thickness.readings.empty() || !before.plan)
        return;
    const auto study = study_plate(measured, hindsight.planned, progress, billet);
    if (!study || study->session != hindsight.planned ||
        plate::fault_in(after.thickness.readings, study->model->form().outline))
        return;
    const plate::PlateModel& model = *study->model;
    const auto kind = history.instrument.kind;
    const auto planned = planned_pass(*before.plan, model, kind);
    std::function<double(plate::Point)> planned_mm;
    if (planned)
        planned_mm = [&](plate::Point p) { return planned->at(p); };
    const plate::TakenWood taken =
        taken_between(*study, before.thickness, after.thickness,
                      {.reach_mm = reach_mm(kind), .planned_mm = planned_mm});
    const Eigen::VectorXd left = study->thickness_mm - taken.mm;
    const Eigen::VectorXd g_per_mm = model.wood_g_per_mm(study->fit.wood);
    CarvedPass carved;
    carved.map_g = g_per_mm.dot(taken.mm);
    carved.map_sd_g = std::sqrt(std::max(0.0, g_per_mm.dot(taken.covariance * g_per_mm)));
    if (planned && base::plus_minus(taken.times_sd) <= k_untold) {
        carved.times = taken.times;
        carved.times_sd = taken.times_sd;
        carved.likeness = likeness(taken, planned->at_nodes(), model.node_area_mm2());
    }
    std::vector<int> numbers;
    for (const plate::Hindsight& mode : hindsight.modes)
        numbers.push_back(mode.number);
    const auto then = plate::fitted_state(model, study->fit, left, study->state.modes.shapes);
    auto forecast = plate::forecast_shifts(model, study->fit, study->state, then, numbers);
    widen_by_maps(forecast, *study, taken);
    carved.modes =
        plate::hindsight(forecast, study->tapped, tapped_modes(after), {}, hindsight.is_in_one_air);
    hindsight.carved = std::move(carved);
}

} // namespace platewright::trends
