#include "trends/model/plate_study.hpp"

#include "base/angle.hpp"
#include "base/clock.hpp"
#include "base/interval.hpp"
#include "plate/shape/spots.hpp"
#include "plate/shell/air_load.hpp"
#include "trends/decision/outlook.hpp"
#include "trends/model/carried_level.hpp"
#include "trends/model/plate_form.hpp"
#include "trends/model/plate_now.hpp"
#include "trends/review/map_review.hpp"
#include "trends/wood/wood_figures.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace platewright::trends {
namespace {

using wording::say;

// Firmness of a mode of which nothing is asked: enough to choose, of two ways, the one that leaves
// it alone.
constexpr double k_soft_hold = 0.02;

// A lean that the fit found by itself is told from here on: what looking would tell for sure.
constexpr double k_told_lean_rad = 2.0 * plate::k_read_rings_rad;

bool goes_on_at(const Progress& progress, double share) { return !progress || progress(share); }

/// Of a fit that takes some four rounds through its sessions: 0.1 to 0.8.
double share_of(std::size_t solves, std::size_t sessions) {
    const double rounds =
        static_cast<double>(solves) / static_cast<double>(std::max<std::size_t>(1, sessions));
    return 0.8 - 0.69 * std::exp(-0.5 * rounds);
}

base::Fault stopped() {
    return base::Fault{say("The computation was stopped; nothing was changed.")};
}

bool has_same_fittings(const plate::PlateForm& a, const plate::PlateForm& b) {
    return a.f_holes.empty() == b.f_holes.empty() && a.bar.has_value() == b.bar.has_value();
}

std::vector<plate::FlexReading> flexes_of(const ledger::SessionHistory& session,
                                          const plate::Outline& outline, PlateStudy& study) {
    std::vector<plate::FlexReading> flexes;
    for (const ledger::FlexRecord& record : session.flex) {
        auto reading = flex_reading(record, outline);
        if (reading)
            flexes.push_back(*std::move(reading));
        else
            study.remarks.push_back(say(
                "A flex reading of {} is left out of the fit: the outline has no room for it now.",
                base::local_date(session.session.begun)));
    }
    return flexes;
}

// Modes of at least two taps that nobody named.
std::vector<plate::HeardMode> heard_modes(const ledger::SessionHistory& session) {
    constexpr int k_in_taps = 2;
    std::vector<plate::HeardMode> heard;
    for (const ledger::ModeRecord& record : session.modes)
        if (!record.name && record.mode.taps >= k_in_taps)
            heard.push_back({record.mode.frequency_hz, record.mode.frequency_sd_hz});
    return heard;
}

/// The sessions a fit can rest on, as the fit takes them.
std::vector<plate::FitSession> fit_sessions(const ledger::PlateHistory& history,
                                            PlateStudy& study) {
    std::vector<plate::FitSession> sessions;
    const plate::PlateForm& shape = study.model->form();
    for (std::size_t i = 0; i <= study.session; ++i) {
        const ledger::SessionHistory& one = history.sessions[i];
        auto tapped = tapped_modes(one);
        if (one.thickness.readings.empty() || (tapped.empty() && one.flex.empty()))
            continue;
        const std::string date = base::local_date(one.session.begun);
        const auto form = plate_form(*history.form, history.plate.part, one.session.stage);
        if (!form || !has_same_fittings(*form, shape)) {
            study.remarks.push_back(say("The session of {} is left out of the fit: the plate had "
                                        "other f-holes or another bar then.",
                                        date));
            continue;
        }
        if (const auto fault = plate::fault_in(one.thickness.readings, shape.outline)) {
            study.remarks.push_back(
                say("The session of {} is left out of the fit. {}", date, fault->what));
            continue;
        }
        const plate::ThicknessMap map(one.thickness.readings, shape.outline);
        sessions.push_back({mm_at_nodes(*study.model, map),
                            one.session.mass_g,
                            std::move(tapped),
                            flexes_of(one, shape.outline, study),
                            {},
                            heard_modes(one)});
        study.fitted.push_back(i);
    }
    if (study.carried) {
        const ledger::SessionHistory& now = history.sessions[study.now];
        sessions.push_back({study.thickness_mm, now.session.mass_g, study.tapped,
                            flexes_of(now, shape.outline, study)});
        study.fitted.push_back(study.now);
    }
    return sessions;
}

// The air of the bench where it was not read.
constexpr Air k_usual_air{20.0, 50.0};

// What each mass should do to a mode by the fit that rests on taps alone.
void weigh_by_model(const ledger::PlateHistory& measured, PlateStudy& study,
                    std::vector<plate::FitSession>& sessions) {
    for (std::size_t s = 0; s < sessions.size(); ++s) {
        const ledger::SessionHistory& one = measured.sessions[study.fitted[s]];
        if (one.weighings.empty())
            continue;
        const plate::FittedState state =
            plate::fitted_state(*study.model, study.fit, sessions[s].thickness_mm);
        std::vector<plate::LaidMass> masses;
        for (const ledger::WeighingRecord& w : one.weighings)
            masses.push_back({w.at, w.mass_g, w.place_sd_mm});
        std::vector<int> indices;
        for (const plate::TappedMode& mode : sessions[s].modes)
            if (const int index = plate::mode_index(state.names, mode.number);
                index >= 0 && index < state.modes.frequency_hz.size())
                indices.push_back(index);
        const auto foretold = plate::weighed_modes(
            *study.model, (sessions[s].thickness_mm.array() + study.fit.thickness_mm).matrix(),
            study.fit.arch, study.fit.wood, state.modes, masses, indices, false);
        for (std::size_t k = 0; k < masses.size(); ++k) {
            const auto ratio = [&](int number) -> std::optional<double> {
                for (const plate::WeighedMode& mode : foretold[k])
                    if (mode.index == plate::mode_index(state.names, number))
                        return mode.log_ratio;
                return std::nullopt;
            };
            auto shifts = weighed_shifts(one, one.weighings[k], ratio);
            plate::WeighedReading reading{masses[k], {}};
            for (const WeighedModeShift& shift : shifts)
                reading.shifts.push_back(shift.shift);
            study.weighings.push_back({one.weighings[k], std::move(shifts), true});
            sessions[s].weighings.push_back(std::move(reading));
        }
    }
}

// The fit once more with the weighings, where there are any.
void fit_with_weighings(const ledger::PlateHistory& measured, const StartingWood& start,
                        std::vector<plate::FitSession> sessions, PlateStudy& study,
                        const std::function<bool()>& goes_on) {
    if (study.fit.status != plate::FitStatus::ok)
        return;
    weigh_by_model(measured, study, sessions);
    if (study.weighings.empty())
        return;
    study.fit_by_taps = std::exchange(
        study.fit, plate::fit_wood(*study.model, start.wood, sessions, start.priors, goes_on));
    for (std::size_t k = 0; k < study.fit.weighings.size() && k < study.weighings.size(); ++k) {
        study.weighings[k].deviations = study.fit.weighings[k].deviations;
        study.weighings[k].is_used = study.fit.weighings[k].is_used;
    }
    if (!study.fit.weighed_doubt.empty())
        study.remarks.push_back(study.fit.weighed_doubt);
}

// What counts of the newest of the fit's sessions beside the named modes.
void tell_heard(PlateStudy& study) {
    std::string hz;
    int count = 0;
    for (const plate::FitResidual& r : study.fit.residuals)
        if (r.row == plate::FitRow::series && r.session + 1 == study.fitted.size()) {
            hz += (count++ > 0 ? ", " : "") + wording::figure(r.measured, 0);
        }
    if (count > 0)
        study.rests_on.push_back(
            say("Modes without a name that the model explains count as well: {} Hz.", hz));
}

void remark_on_fit(PlateStudy& study) {
    switch (study.fit.status) {
    case plate::FitStatus::not_settled:
        study.remarks.emplace_back(say("The fit did not settle: take its figures with care."));
        break;
    case plate::FitStatus::impossible_wood:
        study.remarks.emplace_back(say("No wood can have these modes with this map and arching: is "
                                       "a mode named wrongly, or the map in another unit?"));
        break;
    case plate::FitStatus::ok:
    case plate::FitStatus::nothing_to_fit:
    case plate::FitStatus::stopped:
        break;
    }
    if (!study.fit.doubt.empty())
        study.remarks.push_back(study.fit.doubt);
    tell_heard(study);
    const double lean_rad = study.fit.unknowns[static_cast<int>(plate::FitUnknown::ring)];
    if (study.fit.status == plate::FitStatus::ok && !study.has_rings &&
        std::abs(lean_rad) > k_told_lean_rad) {
        const auto deg = [](double rad) { return wording::figure(base::in_deg(rad), 0); };
        study.remarks.push_back(say(
            "The wood comes out soft across, as where the rings lean by {}° ± {}°: look at the end "
            "grain, and type what it shows (Shape).",
            deg(std::abs(lean_rad)), deg(base::plus_minus(study.fit.sd(plate::FitUnknown::ring)))));
    }
    for (const plate::ShapeName& name : study.state.names)
        if (name.index >= 0 && !name.sure)
            study.remarks.push_back(
                say("In the model mode {} is doubtful: {}.", name.number, name.doubt));
}

} // namespace

std::vector<WeighingReview> weighings_of(const ledger::SessionHistory& session,
                                         const PlateStudy* study) {
    std::vector<WeighingReview> all;
    for (const ledger::WeighingRecord& record : session.weighings) {
        WeighingReview one{record, weighed_shifts(session, record)};
        if (study != nullptr)
            for (const WeighingReview& known : study->weighings)
                if (known.record.id == record.id)
                    one = known;
        all.push_back(std::move(one));
    }
    return all;
}

std::vector<plate::TappedMode> tapped_modes(const ledger::SessionHistory& session) {
    std::vector<plate::TappedMode> tapped;
    for (const ledger::ModeRecord& record : session.modes)
        if (record.name && record.name->number > 0)
            tapped.push_back(
                {record.name->number, record.mode.frequency_hz, record.mode.frequency_sd_hz});
    std::stable_sort(tapped.begin(), tapped.end(),
                     [](const auto& a, const auto& b) { return a.number < b.number; });
    tapped.erase(std::unique(tapped.begin(), tapped.end(),
                             [](const auto& a, const auto& b) { return a.number == b.number; }),
                 tapped.end());
    return tapped;
}

namespace {

/// The fitted plate with what is read off its model.
base::Result<PlateStudy> described(const ledger::PlateHistory& history, PlateStudy study,
                                   const Progress& progress) {
    if (!goes_on_at(progress, 0.8))
        return stopped();
    if (study.fit.status == plate::FitStatus::nothing_to_fit)
        study.remarks.emplace_back(say("No named mode was tapped in a session with a map: the "
                                       "model has the handbook's wood, not this plate's."));
    study.state = plate::fitted_state(*study.model, study.fit, study.thickness_mm);
    if (!goes_on_at(progress, 0.9))
        return stopped();
    study.flexes =
        check_flexes(history.sessions[study.now], *study.model, study.fit, study.thickness_mm);
    const Eigen::VectorXd thickness =
        study.thickness_mm.array() + study.fit.thickness_mm; // as the fit holds the map
    study.stroke_hz = plate::thinning_map(
        *study.model, plate::thinning_gradient(*study.model, thickness, study.fit.arch,
                                               study.fit.wood, study.state.modes));
    remark_on_fit(study);
    study.hollow_mm = hollows_of(history, study);
    carry_levels(history, study);
    return study;
}

} // namespace

base::Result<PlateStudy> study_plate(const ledger::PlateHistory& measured, std::size_t session,
                                     const Progress& progress, const plate::MeasuredWood& billet) {
    if (measured.plate.part == modes::Part::body)
        return body_has_none();
    if (!measured.form)
        return base::Fault{
            say("The plate's shape is not known yet: say its size under Plate, Shape (F8).")};
    const auto newest = session_with_map(measured, session);
    if (!newest)
        return base::Fault{say("No session of this plate has caliper readings yet: the "
                               "model needs a thickness map.")};
    PlateStudy study;
    study.session = *newest;
    const ledger::PlateHistory history = as_it_is_now(measured, session, study);
    const ledger::SessionHistory& mapped = history.sessions[study.session];
    auto form = plate_form(*history.form, history.plate.part, mapped.session.stage);
    if (!form)
        return form.fault();
    if (auto fault = plate::fault_in(mapped.thickness.readings, form->outline))
        return *fault;
    study.map = std::make_shared<plate::ThicknessMap>(mapped.thickness.readings, form->outline);
    const Air air = study.air.value_or(k_usual_air);
    study.model = std::make_shared<plate::PlateModel>(
        *form, plate::PlateModel::k_fineness,
        plate::air_density_kg_m3(air.temperature_c, air.humidity_pct));
    if (!goes_on_at(progress, 0.1))
        return stopped();
    study.thickness_mm = mm_at_nodes(*study.model, *study.map);
    const StartingWood start = starting_wood(
        *history.form, history.plate,
        billet.empty() ? billet_of(history, history.sessions[study.now].session) : billet);
    study.wood_source = start.source;
    study.has_rings = history.form->has_rings();
    study.as_of = history.sessions[study.now].session;
    study.modes = modes_now(history, study.now);
    carry_on(history, start.wood, study);
    const auto sessions = fit_sessions(history, study);
    std::size_t solves = 0;
    const auto goes_on = [&] { return goes_on_at(progress, share_of(solves++, sessions.size())); };
    study.fit = plate::fit_wood(*study.model, start.wood, sessions, start.priors, goes_on);
    fit_with_weighings(measured, start, sessions, study, goes_on);
    if (study.fit.status == plate::FitStatus::stopped)
        return stopped();
    return described(history, std::move(study), progress);
}

std::optional<base::Fault> unfit_to_foresee(const PlateStudy& study) {
    if (!study.no_plan.empty())
        return base::Fault{study.no_plan};
    if (study.fit.is_plausible || study.fit.status == plate::FitStatus::nothing_to_fit)
        return std::nullopt; // without a tapped mode there is no target either
    const std::string why =
        !study.fit.doubt.empty()
            ? study.fit.doubt
            : say("No wood can have these modes with this map and arching: is a mode "
                  "named wrongly, or the map in another unit?");
    return base::Fault{say("There is no plan, for its forecasts would mislead. {}", why)};
}

std::vector<modes::SpotProfile> spot_profiles(const PlateStudy& study) {
    std::vector<modes::SpotProfile> profiles;
    if (!study.fit.is_plausible)
        return profiles;
    for (const plate::ShapeName& name : study.state.names) {
        if (name.index < 0 || !name.sure)
            continue;
        modes::SpotProfile profile{name.number, {}};
        for (const auto& level :
             plate::spot_amplitudes(study.model->form().outline, study.model->shell().mesh(),
                                    study.state.modes.shapes, name.index))
            profile.levels.push_back({level.spot, level.level_db});
        profiles.push_back(std::move(profile));
    }
    return profiles;
}

std::vector<plate::PlanTarget> with_soft_holds(std::vector<plate::PlanTarget> targets,
                                               const PlateStudy& study) {
    for (const ModeNow& mode : study.modes) {
        const bool is_asked = std::any_of(targets.begin(), targets.end(),
                                          [&](const auto& t) { return t.number == mode.number; });
        if (!is_asked && is_steering(mode.number))
            targets.push_back({mode.number, mode.level.hz, mode.level.hz, k_soft_hold});
    }
    return targets;
}

ledger::PlanRecord record_of(const plate::Plan& plan, const PlateStudy& study,
                             const plate::StrokeField& field) {
    ledger::PlanRecord record;
    record.model_version = std::string(k_model_version);
    record.pass_share = plan.pass_share;
    record.wood_g = plan.wood_g;
    record.summary = plan.summary;
    record.modes = plan.outcomes;
    const plate::RemovalBasis basis(*study.model, field);
    for (std::size_t i = 0; i < basis.strokes().size(); ++i) {
        const double depth = static_cast<Eigen::Index>(i) < plan.depths_mm.size()
                                 ? plan.depths_mm[static_cast<Eigen::Index>(i)]
                                 : 0.0;
        if (depth > 1e-4)
            record.strokes.push_back(
                {basis.strokes()[i].middle, basis.strokes()[i].mirrored, depth});
    }
    return record;
}

} // namespace platewright::trends
