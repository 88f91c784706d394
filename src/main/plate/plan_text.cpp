#include "main/plate/plan_text.hpp"

#include "base/angle.hpp"
#include "base/clock.hpp"
#include "base/interval.hpp"
#include "base/text.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/plate/caliper_text.hpp"
#include "main/plate/weighing_text.hpp"
#include "plate/shape/spots.hpp"

#include <array>
#include <cmath>
#include <fmt/format.h>

namespace platewright::plate {
// Their words in JSON.
NLOHMANN_JSON_SERIALIZE_ENUM(PlanStatus, {{PlanStatus::ok, "reachable"},
                                          {PlanStatus::nothing_to_do, "nothing_to_do"},
                                          {PlanStatus::not_reachable, "not_reachable"},
                                          {PlanStatus::modes_lost, "modes_lost"}})
} // namespace platewright::plate

namespace platewright::cli {
namespace {

using base::fixed;

/// Those that scale the handbook's wood, by their logarithm.
constexpr std::array<std::pair<plate::FitUnknown, const char*>, 5> k_factors{
    {{plate::FitUnknown::e_l, "e_l"},
     {plate::FitUnknown::e_r, "e_r"},
     {plate::FitUnknown::g_lr, "g_lr"},
     {plate::FitUnknown::rest, "rest"},
     {plate::FitUnknown::density, "density"}}};

/// How the fit holds the wood to lie: rings off upright of each half, fibres of the right one.
Json lie_json(const plate::PlateFit& fit) {
    return {{"rings_left_deg", base::in_deg(fit.wood.left.lie.ring_rad)},
            {"rings_right_deg", base::in_deg(fit.wood.right.lie.ring_rad)},
            {"rings_deg_sd", base::in_deg(fit.sd(plate::FitUnknown::ring))},
            {"run_out_deg", base::in_deg(fit.wood.right.lie.run_out_rad)},
            {"run_out_deg_sd", base::in_deg(fit.sd(plate::FitUnknown::run_out))}};
}

Json residuals_json(const trends::PlateStudy& study, plate::FitRow row, const char* number,
                    const char* measured) {
    Json list = Json::array();
    for (const plate::FitResidual& r : study.fit.residuals)
        if (r.row == row)
            list.push_back({{"session", study.fitted.at(r.session)},
                            {number, r.number},
                            {measured, r.measured},
                            {"model_hz", r.modelled},
                            {"deviations", r.deviations}});
    return list;
}

Json fit_json(const trends::PlateStudy& study) {
    Json factors = Json::object();
    for (const auto& [unknown, key] : k_factors)
        factors[key] = {{"times", std::exp(study.fit.unknowns[static_cast<Eigen::Index>(unknown)])},
                        {"ln_sd", study.fit.sd(unknown)}};
    const plate::ArchingProfile& arch = study.model->arching().profile(); // with the heights read
    return {{"sessions", study.fitted},
            {"plausible", study.fit.is_plausible},
            {"wood", study.wood_source},
            {"factors", factors},
            {"lie", lie_json(study.fit)},
            {"arch_mm", arch.arch_mm - study.model->form().arching.arch_mm + study.fit.arch[0]},
            {"long_fullness", arch.long_fullness * std::exp(study.fit.arch[1])},
            {"cross_fullness", arch.cross_fullness * std::exp(study.fit.arch[2])},
            {"thickness_mm", study.fit.thickness_mm},
            {"residuals", residuals_json(study, plate::FitRow::mode, "number", "tapped_hz")},
            {"series", residuals_json(study, plate::FitRow::series, "model_mode", "heard_hz")}};
}

Json outcome_json(const plate::PlanOutcome& o) {
    Json json = o;
    json.update({{"pass_hz_95", base::plus_minus(o.pass_sd_hz)},
                 {"after_hz_95", base::plus_minus(o.after_sd_hz)},
                 {"met", o.is_met()}});
    return json;
}

Json zone_json(const trends::PlanZone& z) {
    return {{"name", z.name},         {"mean_mm", z.mean_mm},   {"deepest_mm", z.deepest_mm},
            {"x_mm", z.deepest.x_mm}, {"y_mm", z.deepest.y_mm}, {"wood_g", z.wood_g}};
}

Json mode_json(const plate::Hindsight& mode) {
    return {{"number", mode.number},
            {"expected_hz", mode.expected_hz},
            {"tapped_hz", mode.tapped_hz},
            {"deviations", mode.deviations},
            {"text", mode.text}};
}

Json carved_json(const std::optional<trends::CarvedPass>& carved) {
    if (!carved)
        return nullptr;
    return {{"map_g", carved->map_g},
            {"map_g_sd", carved->map_sd_g},
            {"likeness", carved->likeness},
            {"times", carved->times},
            {"times_sd", or_null(carved->times.has_value(), carved->times_sd)},
            {"modes", array_of(carved->modes, mode_json)}};
}

Json hindsight_json(const ShownPlan& shown) {
    if (!shown.hindsight)
        return nullptr;
    const trends::PlanHindsight& h = *shown.hindsight;
    return {{"planned", shown.history.sessions[h.planned].session},
            {"after", shown.history.sessions[h.after].session},
            {"pass_g", h.pass_g},
            {"taken_g", h.taken_g},
            {"modes", array_of(h.modes, mode_json)},
            {"carved", carved_json(h.carved)}};
}

void say_zones(const ShownPlan& shown) {
    Table table({"where, seen from the outside", "mean mm", "deepest mm", "at", "g"});
    for (const trends::PlanZone& z : shown.answer.zones)
        if (trends::is_worth_telling(z))
            table.row({z.name, fixed(z.mean_mm, 2), fixed(z.deepest_mm, 2),
                       plate::place_text(z.deepest), fixed(z.wood_g, 2)});
    if (!table.empty())
        say(fmt::format("\n  The next pass, {} g:\n",
                        fixed(shown.answer.plan.pass_share * shown.answer.plan.wood_g, 1)) +
            table.text() +
            "  x is counted from the centre line, positive to the right, y from the lower end.");
}

void say_hindsight(const ShownPlan& shown) {
    if (!shown.hindsight)
        return;
    const trends::PlanHindsight& h = *shown.hindsight;
    const std::string line =
        fmt::format("\n  The plan of {}, held against the session of {}",
                    base::local_date(shown.history.sessions[h.planned].session.begun),
                    base::local_date(shown.history.sessions[h.after].session.begun));
    say(line + ":");
    say(trends::facts_of(h, shown.history), "    ");
}

std::string outcomes_table(const plate::Plan& plan) {
    Table table(
        {"mode", "now Hz", "wanted Hz", "after the next pass Hz", "after all of it Hz", ""});
    for (const plate::PlanOutcome& o : plan.outcomes)
        table.row({modes::mode_text(o.number), fixed(o.now_hz, 1), fixed(o.want_hz, 1),
                   wording::with_range(o.pass_hz, o.pass_sd_hz, 1),
                   wording::with_range(o.after_hz, o.after_sd_hz, 1),
                   o.firmness < 1.0 ? "held softly: not asked for"
                   : o.is_met()     ? ""
                                    : "not reached"});
    return table.text();
}

/// The session of the map, and what was taken off it to carry it on.
Json map_json(const ShownPlan& shown) {
    const auto& carried = shown.study.carried;
    return {{"session", shown.history.sessions[shown.study.session].session},
            {"taken_g", carried ? carried->taken_g : 0.0},
            {"planned_g", carried ? carried->planned_g : 0.0},
            {"taken_mm", carried ? carried->taken_mm.mean() : 0.0}};
}

Json air_json(const std::optional<trends::Air>& air) {
    return air ? Json{{"temperature_c", air->temperature_c}, {"humidity_pct", air->humidity_pct}}
               : Json(nullptr);
}

} // namespace

Json to_json(const ShownPlan& shown) {
    const plate::Plan& plan = shown.answer.plan;
    return {{"schema", "platewright.plan/1"},
            {"plate", plate_json(shown.history)},
            {"session", shown.history.sessions[shown.study.now].session},
            {"map", map_json(shown)},
            {"air", air_json(shown.study.air)},
            {"aim", shown.aim},
            {"status", plan.status},
            {"modes", array_of(plan.outcomes, outcome_json)},
            {"held", plan.held},
            {"wood_g", plan.wood_g},
            {"deepest_mm", plan.deepest_mm},
            {"thinnest_mm", plan.thinnest_mm},
            {"pass_share", plan.pass_share},
            {"pass_g", plan.pass_share * plan.wood_g},
            {"zones", array_of(shown.answer.zones, zone_json)},
            {"next", next_json(shown.answer.plan.next, shown.answer.next_words)},
            {"fit", fit_json(shown.study)},
            {"flexes", flexes_json(shown.study.flexes)},
            {"hindsight", hindsight_json(shown)},
            {"summary", plan.summary},
            {"cautions", plan.cautions},
            {"rests_on", shown.study.rests_on},
            {"remarks", shown.study.remarks},
            {"not_kept", shown.not_kept}};
}

std::string keep_plan(ledger::PlanRecord record, const std::filesystem::path& folder,
                      std::string_view what) {
    ledger::Store store = open_to_write(folder);
    if (store.read_only())
        return fmt::format("The {} is not kept, because the ledger can only be read: {}.", what,
                           store.why_read_only());
    record.made = base::now();
    store.add(record);
    return {};
}

void say(const ShownPlan& shown) {
    const auto date_of = [&](std::size_t session) {
        return base::local_date(shown.history.sessions[session].session.begun);
    };
    say(fmt::format(
        "{} ({}), as tapped on {}, from the map of {}; the model is fitted to {} session{}",
        shown.history.plate.label, shown.history.instrument.label, date_of(shown.study.now),
        date_of(shown.study.session), shown.study.fitted.size(),
        shown.study.fitted.size() == 1 ? "" : "s"));
    say(shown.study.rests_on);
    if (shown.aim == "kept")
        say("  It aims at the targets kept with the plate.");
    if (!shown.answer.plan.outcomes.empty())
        say(outcomes_table(shown.answer.plan) + "  ± is an interval of 95 %.");
    say("\n  " + shown.answer.plan.summary);
    say_zones(shown);
    say_next(shown.answer.next_words);
    say(shown.answer.plan.cautions);
    say(shown.study.remarks);
    say_flexes(shown.study.flexes);
    say_hindsight(shown);
    if (!shown.not_kept.empty())
        say("  " + shown.not_kept);
}

} // namespace platewright::cli
