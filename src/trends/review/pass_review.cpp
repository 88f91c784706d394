#include "trends/review/pass_review.hpp"

#include "trends/air/conditions.hpp"
#include "trends/air/in_air.hpp"
#include "trends/model/plan_request.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/review/map_review.hpp"

#include <algorithm>
#include <cmath>
#include <functional>

namespace platewright::trends {
namespace {

constexpr double k_same_place_mm = 0.5;
constexpr double k_caliper_mm = 0.05; // of one reading, as plate::ThicknessMap has it

void compare(CarvedPass& carved, const Eigen::VectorXd& taken, const Eigen::VectorXd& planned,
             const Eigen::VectorXd& area) {
    const double whole = area.sum();
    const double mean_taken = area.dot(taken) / whole, mean_planned = area.dot(planned) / whole;
    const Eigen::VectorXd a = taken.array() - mean_taken, b = planned.array() - mean_planned;
    const auto inner = [&](const Eigen::VectorXd& u, const Eigen::VectorXd& v) {
        return area.dot(u.cwiseProduct(v));
    };
    if (const double square = inner(planned, planned); square > 0.0)
        carved.times = inner(taken, planned) / square;
    if (const double both = inner(a, a) * inner(b, b); both > 0.0)
        carved.likeness = inner(a, b) / std::sqrt(both);
}

/// The taken thickness is known as well as both maps are: their readings' errors, on the mean.
void widen_by_maps(std::vector<plate::ShiftForecast>& forecast, const PlateStudy& study,
                   std::size_t readings_after) {
    const double n = static_cast<double>(study.map->readings().size());
    const double sd_mm =
        k_caliper_mm * std::sqrt(1.0 / n + 1.0 / static_cast<double>(readings_after));
    for (plate::ShiftForecast& f : forecast) {
        const int index = plate::mode_index(study.state.names, f.number);
        const double slope =
            study.state.by_unknown(static_cast<int>(plate::FitUnknown::thickness), index);
        f.shift_sd_hz = std::hypot(f.shift_sd_hz, slope * sd_mm);
    }
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

std::optional<Eigen::VectorXd> planned_depths(const ledger::PlanRecord& plan,
                                              const plate::PlateModel& model,
                                              modes::InstrumentKind kind) {
    plate::StrokeField field = usual_limits(kind).field;
    field.symmetric = std::any_of(plan.strokes.begin(), plan.strokes.end(),
                                  [](const auto& s) { return s.mirrored; });
    const plate::RemovalBasis basis(model, field);
    Eigen::VectorXd depths = Eigen::VectorXd::Zero(std::ssize(basis.strokes()));
    for (const ledger::PlannedStroke& stroke : plan.strokes) {
        const auto like = std::find_if(
            basis.strokes().begin(), basis.strokes().end(), [&](const plate::Stroke& s) {
                return std::hypot(s.middle.x_mm - stroke.middle.x_mm,
                                  s.middle.y_mm - stroke.middle.y_mm) < k_same_place_mm;
            });
        if (like == basis.strokes().end())
            return std::nullopt;
        depths[like - basis.strokes().begin()] = stroke.depth_mm;
    }
    return plan.pass_share * (basis.at_nodes() * depths);
}

std::optional<Eigen::VectorXd> pass_as_planned(const ledger::PlanRecord& plan,
                                               const PlateStudy& study,
                                               modes::InstrumentKind kind) {
    constexpr double k_same_share = 0.1, k_same_g = 0.05;
    const plate::PlateModel& model = *study.model;
    auto pass_mm = planned_depths(plan, model, kind);
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
        for (const ledger::PlannedMode& m : plan.modes) {
            forecast.push_back({m.number, m.now_hz, m.pass_hz, m.pass_hz - m.now_hz, m.pass_sd_hz});
            was.push_back({m.number, m.now_hz, 0.0});
        }
        result.modes = plate::hindsight(forecast, was, tapped_modes(is), {}, result.is_in_one_air);
        return result;
    }
    return std::nullopt;
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
    const plate::ThicknessMap map(after.thickness.readings, model.form().outline);
    const Eigen::VectorXd left =
        model.thickness_at([&](plate::Point p) { return map.thickness_mm(p); });
    const Eigen::VectorXd taken = study->thickness_mm - left;
    CarvedPass carved;
    carved.map_g =
        model.mass_g(study->thickness_mm, study->fit.wood) - model.mass_g(left, study->fit.wood);
    if (const auto planned = planned_depths(*before.plan, model, history.instrument.kind))
        compare(carved, taken, *planned, model.node_area_mm2());
    std::vector<int> numbers;
    for (const plate::Hindsight& mode : hindsight.modes)
        numbers.push_back(mode.number);
    const auto then = plate::fitted_state(model, study->fit, left, study->state.modes.shapes);
    auto forecast = plate::forecast_shifts(model, study->fit, study->state, then, numbers);
    widen_by_maps(forecast, *study, after.thickness.readings.size());
    carved.modes =
        plate::hindsight(forecast, study->tapped, tapped_modes(after), {}, hindsight.is_in_one_air);
    hindsight.carved = std::move(carved);
}

} // namespace platewright::trends
