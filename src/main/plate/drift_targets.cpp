#include "main/plate/drift_targets.hpp"

#include "base/clock.hpp"
#include "base/text.hpp"
#include "bench/settings.hpp"
#include "ledger/limits.hpp"
#include "main/console.hpp"
#include "main/find.hpp"
#include "main/typed.hpp"
#include "trends/decision/goal_range.hpp"
#include "trends/decision/pass_rule.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace platewright::cli {
namespace {

std::string air_text(const trends::Air& air) {
    return fmt::format("{} °C and {} % humidity", base::fixed(air.temperature_c, 1),
                       base::fixed(air.humidity_pct, 0));
}

std::string range(const std::optional<trends::Interval>& i, int decimals) {
    if (!i)
        return "–";
    const std::string from =
        fmt::format("{} ({} ", base::fixed(i->value, decimals), base::fixed(i->low, decimals));
    return from + (std::isfinite(i->high) ? "to " + base::fixed(i->high, decimals) : "or more") +
           ")";
}

Json interval_json(const std::optional<trends::Interval>& i) {
    if (!i)
        return nullptr;
    return {
        {"value", i->value}, {"low", i->low}, {"high", or_null(std::isfinite(i->high), i->high)}};
}

} // namespace

ledger::TargetRecord parse_target(const std::string& text) {
    const auto equals = std::min(text.find('='), text.size());
    const auto number = base::parse_number(text.substr(0, equals));
    const std::string value = text.substr(std::min(equals + 1, text.size()));
    const auto hz = value == "none" ? std::optional{0.0} : base::parse_number(value);
    const bool is_mode =
        number && *number >= 1 && *number <= 999 && *number == static_cast<int>(*number);
    if (!is_mode || !hz || (value != "none" && !ledger::k_target.hold(*hz)))
        throw CLI::ValidationError(
            "--target", fmt::format("“{}” is no target: give N=HZ, as 5=350, or N=none", text));
    return {static_cast<int>(*number), *hz};
}

trends::Air parse_air(const std::string& text) {
    const auto air = bench::air_from(text);
    if (!air)
        throw CLI::ValidationError("--air",
                                   fmt::format("“{}” is no air: give °C:PERCENT, as 20:50", text));
    return *air;
}

std::string question_to(const std::vector<ledger::TargetRecord>& typed,
                        const ledger::PlateHistory& history) {
    std::vector<trends::Goal> goals;
    for (const ledger::TargetRecord& target : typed)
        if (target.frequency_hz > 0.0) // what is forgotten is not asked about
            goals.push_back({target.number, target.frequency_hz});
    return trends::question_to(goals, history);
}

void add_target_is_right(CLI::App& command, bool& is_right) {
    command.add_flag("--target-is-right", is_right,
                     "Take a target that no such plate is likely to come to");
}

base::Result<std::vector<ledger::TargetRecord>> targets_like(const ledger::Store& store,
                                                             const std::string& name) {
    const auto session = reference_session(store, name);
    if (!session)
        return session.fault();
    std::vector<ledger::TargetRecord> targets;
    const auto history = store.history_with(*session);
    if (const auto* one = history ? ledger::session_in(history->sessions, *session) : nullptr)
        for (const ledger::ModeRecord& mode : one->modes)
            if (mode.name)
                targets.push_back({mode.name->number, mode.mode.frequency_hz});
    if (targets.empty())
        return base::Fault{
            fmt::format("No mode of “{}” bears a name: there is nothing to aim at.", name)};
    return targets;
}

std::vector<ledger::TargetRecord> merged_targets(const std::vector<ledger::TargetRecord>& kept,
                                                 const std::vector<ledger::TargetRecord>& typed) {
    std::map<int, double> by_number;
    for (const auto* list : {&kept, &typed})
        for (const ledger::TargetRecord& target : *list)
            by_number[target.number] = target.frequency_hz;
    std::vector<ledger::TargetRecord> merged;
    for (const auto& [number, hz] : by_number)
        if (hz > 0.0)
            merged.push_back({number, hz});
    return merged;
}

base::Result<ledger::Store> open_to_remember(const std::filesystem::path& folder) {
    if (const auto there = open_to_read(folder); !there) // looking must not make a ledger
        return there.fault();
    ledger::Store store = open_to_change(folder, "Nothing was kept.");
    return store;
}

void remember(ledger::Store& store, ledger::Id plate,
              const std::vector<ledger::TargetRecord>& targets,
              const std::optional<trends::Air>& air) {
    for (const ledger::TargetRecord& target : targets)
        store.set_target(plate, target.number,
                         target.frequency_hz > 0.0 ? std::optional{target.frequency_hz}
                                                   : std::nullopt);
    if (air)
        bench::remember_air(store, *air);
}

std::string target_table(const std::vector<trends::TargetOutlook>& outlooks) {
    if (outlooks.empty())
        return "";
    Table table({"target", "Hz", "now", "g to take (95 %)", "mm of mean thickness (95 %)",
                 "pass, g", "beyond it, %"});
    for (const trends::TargetOutlook& o : outlooks)
        table.row({modes::mode_text(o.number), base::fixed(o.target_hz, 1),
                   o.now_hz ? base::fixed(*o.now_hz, 1) : "–", range(o.grams, 1), range(o.mm, 2),
                   base::fixed(o.pass_g, 1),
                   o.past_it ? base::fixed(trends::chance_as_said_pct(*o.past_it), 0) : "–"});
    return "\n" + table.text();
}

Json target_json(const trends::TargetOutlook& o) {
    return {{"number", o.number},        {"target_hz", o.target_hz},
            {"now_hz", o.now_hz},        {"grams", interval_json(o.grams)},
            {"mm", interval_json(o.mm)}, {"pass_g", o.pass_g},
            {"past_it", o.past_it},      {"safe_g", o.safe_g},
            {"passed", o.passed},        {"warning", trends::warning_of(o)}};
}

std::string air_heading(const trends::HistoryInAir& in_air, const trends::Air& air) {
    std::string heading = fmt::format("Set over to {} ({} % moisture):\n", air_text(air),
                                      base::fixed(trends::equilibrium_moisture_pct(air), 1));
    for (std::size_t i = 0; i < in_air.sessions.size(); ++i)
        if (!in_air.sessions[i])
            heading += fmt::format("  The session of {} has no air noted: it is as measured.\n",
                                   base::local_date(in_air.history.sessions[i].session.begun));
    return heading;
}

Json air_json(const trends::HistoryInAir& in_air, const trends::Air& air,
              const ledger::PlateHistory& measured) {
    Json sessions = Json::array();
    for (std::size_t i = 0; i < in_air.sessions.size(); ++i) {
        const auto mode_json = [](const ledger::ModeRecord& mode) {
            return Json{{"number", number_of(mode.name)}, {"hz", mode.mode.frequency_hz}};
        };
        const auto& over = in_air.sessions[i];
        sessions.push_back(
            {{"moisture_change_pct", or_null(over.has_value(), over ? over->moisture_pct : 0.0)},
             {"mass_sd_g", over ? over->mass_sd_g : std::nullopt},
             {"measured_mass_g", measured.sessions[i].session.mass_g},
             {"measured_modes", array_of(measured.sessions[i].modes, mode_json)}});
    }
    return {{"temperature_c", air.temperature_c},
            {"humidity_pct", air.humidity_pct},
            {"sessions", sessions}};
}

} // namespace platewright::cli
