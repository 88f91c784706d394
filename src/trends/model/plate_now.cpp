#include "trends/model/plate_now.hpp"

#include "base/clock.hpp"
#include "plate/plan/graduation.hpp"
#include "trends/air/in_air.hpp"
#include "trends/review/map_review.hpp"
#include "trends/review/pass_review.hpp"
#include "trends/track/track.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::trends {
namespace {

using wording::say;

// A map is carried on while less than this of the plate has come off since.
constexpr double k_farthest_share = 0.10;

// Of wood that was planned: how much may have come off elsewhere (speed_carried_maps).
constexpr double k_beside_plan = 0.5;

std::size_t newest_tapped(const ledger::PlateHistory& history, std::size_t from, std::size_t last) {
    for (std::size_t i = std::min(last, history.sessions.size() - 1); i > from; --i)
        if (!tapped_modes(history.sessions[i]).empty())
            return i;
    return from;
}

/// Why the map can't be carried on to a session; empty where it can.
std::string why_not_carried(const ledger::PlateHistory& history, std::size_t map, std::size_t now) {
    const ledger::SessionRecord &then = history.sessions[map].session,
                                &is = history.sessions[now].session;
    const std::string date = base::local_date(then.begun);
    if (shape_of(history.plate.part, then.stage) != shape_of(history.plate.part, is.stage))
        return say("There is no plan: the newest map is of {}, before f-holes were cut or a bar "
                   "was fitted. Take a new map first.",
                   date);
    if (!then.mass_g || !is.mass_g)
        return say("There is no plan: the newest map is of {}, and what came off since is not "
                   "known. Weigh the plate, or take a new map, first.",
                   date);
    const double taken = *then.mass_g - *is.mass_g;
    if (taken < -k_scales_share * *then.mass_g)
        return say("There is no plan: the plate weighs {} g more than when its newest map was "
                   "taken, on {}. Is one of the masses wrong? If not, take a new map first.",
                   wording::figure(-taken, 1), date);
    if (taken > k_farthest_share * *then.mass_g)
        return say("There is no plan: the newest map is of {}, and {} g have come off since, too "
                   "much to say where the wood is now. Take a new map first.",
                   date, wording::figure(taken, 1));
    return {};
}

/// Weighed after its newest taps, and lighter: what its modes are now is not known.
std::string why_not_tapped(const ledger::PlateHistory& history, std::size_t now, std::size_t last) {
    const auto& mass = history.sessions[now].session.mass_g;
    for (std::size_t i = std::min(last, history.sessions.size() - 1); mass && i > now; --i) {
        const ledger::SessionRecord& later = history.sessions[i].session;
        if (!later.mass_g)
            continue;
        if (*mass - *later.mass_g <= 2.0 * k_scales_share * *mass)
            break;
        return say("There is no plan: the plate was weighed on {}, {} g lighter than at its newest "
                   "taps. Tap it first.",
                   base::local_date(later.begun), wording::figure(*mass - *later.mass_g, 1));
    }
    return {};
}

void remark_on_air(const ledger::PlateHistory& measured, PlateStudy& study) {
    constexpr double k_noticeable_pct = 0.3; // of moisture: half a hold's worth
    const double now = equilibrium_moisture_pct(*study.air);
    const bool differs =
        std::ranges::any_of(measured.sessions, [&](const ledger::SessionHistory& one) {
            const auto air = air_of(one.session);
            return air && std::abs(equilibrium_moisture_pct(*air) - now) > k_noticeable_pct;
        });
    if (differs)
        study.rests_on.push_back(say("The sessions are set over to the air of {}: {} °C, {} % "
                                     "humidity. \"Now\" is as tapped then.",
                                     base::local_date(measured.sessions[study.now].session.begun),
                                     wording::figure(study.air->temperature_c, 1),
                                     wording::figure(study.air->humidity_pct, 0)));
}

} // namespace

ledger::PlateHistory as_it_is_now(const ledger::PlateHistory& measured, std::size_t last,
                                  PlateStudy& study) {
    const std::size_t tapped = newest_tapped(measured, study.session, last);
    const auto in_air_of = [&](std::size_t session) {
        study.now = session;
        study.air = air_of(measured.sessions[session].session);
        return study.air ? in_air(measured, *study.air).history : measured;
    };
    ledger::PlateHistory history = in_air_of(tapped);
    if (tapped != study.session)
        study.no_plan = why_not_carried(history, study.session, tapped);
    if (!study.no_plan.empty())
        history = in_air_of(study.session);
    else
        study.no_plan = why_not_tapped(history, study.now, last);
    study.tapped = tapped_modes(history.sessions[study.now]);
    if (study.air)
        remark_on_air(measured, study);
    return history;
}

namespace {

/// What of the plan kept with a session was taken by the next: by the scales, all of it at most.
double share_done(const ledger::PlateHistory& history, std::size_t session) {
    const ledger::SessionHistory &before = history.sessions[session],
                                 &after = history.sessions[session + 1];
    const double pass_g = before.plan->pass_share * before.plan->wood_g;
    if (!before.session.mass_g || !after.session.mass_g || !(pass_g > 0.0))
        return 0.0;
    return std::clamp((*before.session.mass_g - *after.session.mass_g) / pass_g, 0.0, 1.0);
}

struct DonePass {
    PlannedPass planned;
    double share = 0.0; // that was done
};

/// The planned passes of sessions from one to another, as far as they were done. What was planned
/// for a session after the next had begun was none of them.
std::vector<DonePass> done_passes(const ledger::PlateHistory& history, const PlateStudy& study,
                                  std::size_t from, std::size_t to) {
    std::vector<DonePass> done;
    for (std::size_t i = from; i < to; ++i)
        if (const auto& plan = history.sessions[i].plan;
            plan && plan->made < history.sessions[i + 1].session.begun)
            if (auto pass = planned_pass(*plan, *study.model, history.instrument.kind))
                done.push_back({std::move(*pass), share_done(history, i)});
    return done;
}

/// What a study says first that rests on a map of another day.
std::string words_of(const CarriedMap& carried, const ledger::SessionRecord& then) {
    const std::string date = base::local_date(then.begun),
                      grams = wording::figure(carried.taken_g, 1);
    if (carried.planned_g <= k_scales_share * *then.mass_g)
        return say("The map is of {}; {} g have come off since, by the scales. It is carried on as "
                   "if they had come off evenly: where they did is not known, so the forecasts are "
                   "wider. A new map makes them surer.",
                   date, grams);
    return say("The map is of {}; {} g have come off since, by the scales. It is carried on as if "
               "{} g had come off where it was planned, and the rest evenly: the forecasts are "
               "wider by what may lie elsewhere. A new map makes them surer.",
               date, grams, wording::figure(carried.planned_g, 1));
}

} // namespace

void carry_on(const ledger::PlateHistory& history, const plate::PlateWood& wood,
              PlateStudy& study) {
    if (study.now == study.session)
        return;
    const ledger::SessionRecord &then = history.sessions[study.session].session,
                                &is = history.sessions[study.now].session;
    // its density by the scales: the wood is not fitted yet
    const double density = *then.mass_g / study.model->mass_g(study.thickness_mm, wood);
    const Eigen::VectorXd g_per_mm = density * study.model->wood_g_per_mm(wood);
    CarriedMap carried;
    carried.taken_g = std::max(0.0, *then.mass_g - *is.mass_g);
    carried.taken_mm = Eigen::VectorXd::Zero(study.thickness_mm.size());
    for (const DonePass& pass : done_passes(history, study, study.session, study.now))
        carried.taken_mm += pass.share * pass.planned.at_nodes();
    carried.planned_g = g_per_mm.dot(carried.taken_mm);
    if (carried.planned_g > carried.taken_g) {
        carried.taken_mm *= carried.taken_g / carried.planned_g;
        carried.planned_g = carried.taken_g;
    }
    const double mm_per_g = 1.0 / g_per_mm.sum(), even_g = carried.taken_g - carried.planned_g;
    const double open_g = even_g + k_beside_plan * carried.planned_g;
    carried.taken_mm.array() += mm_per_g * even_g;
    carried.off_mm = mm_per_g * open_g;
    carried.open_share = open_g / *then.mass_g;
    study.thickness_mm -= carried.taken_mm;
    for (plate::TappedMode& mode : study.tapped)
        mode.sd_hz = std::hypot(mode.sd_hz, k_place_share * carried.open_share * mode.frequency_hz);
    if (carried.taken_g > k_scales_share * *then.mass_g)
        study.rests_on.insert(study.rests_on.begin(), words_of(carried, then));
    study.carried = std::move(carried);
}

std::optional<std::size_t> graduation_of(const ledger::PlateHistory& history, std::size_t last) {
    std::optional<std::size_t> planned, called;
    for (std::size_t i = 0; i <= last && i < history.sessions.size(); ++i) {
        const ledger::SessionHistory& one = history.sessions[i];
        if (!planned && one.plan)
            planned = session_with_map(history, i);
        if (!called && one.session.stage == modes::Stage::graduated &&
            !one.thickness.readings.empty())
            called = i;
    }
    return planned && called ? std::max(planned, called) : planned ? planned : called;
}

plate::TakenWood taken_since(const ledger::PlateHistory& history, const PlateStudy& study,
                             std::size_t from, std::size_t to) {
    const std::vector<DonePass> between = done_passes(history, study, from, to);
    plate::TakenPrior taken{.reach_mm = reach_mm(history.instrument.kind)};
    taken.planned_mm = [&](plate::Point p) {
        double mm = 0.0;
        for (const DonePass& pass : between)
            mm += pass.share * pass.planned.at(p);
        return mm;
    };
    taken.is_weighed = !between.empty() && std::ranges::all_of(between, [](const DonePass& pass) {
        return pass.share > 0.0;
    });
    return taken_between(study, history.sessions[from].thickness, history.sessions[to].thickness,
                         taken);
}

Eigen::VectorXd hollows_of(const ledger::PlateHistory& history, const PlateStudy& study) {
    const auto graduated = graduation_of(history, study.now);
    if (!graduated || *graduated >= study.now)
        return {};
    const plate::PlateModel& model = *study.model;
    const auto& readings = history.sessions[*graduated].thickness.readings;
    if (*graduated > study.session || plate::fault_in(readings, model.form().outline))
        return {}; // the outline was corrected since: what was read then does not fit it
    Eigen::VectorXd taken = Eigen::VectorXd::Zero(study.thickness_mm.size());
    if (*graduated < study.session)
        taken = taken_since(history, study, *graduated, study.session).mm;
    for (const DonePass& pass : done_passes(history, study, study.session, study.now))
        taken += pass.share * pass.planned.at_nodes();
    return plate::hollows_mm(model, taken, Eigen::VectorXd::Zero(taken.size()));
}

} // namespace platewright::trends
