#include "report/sheet.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"
#include "report/sheet_parts.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;
using wording::signed_figure;

constexpr double k_drift_height = 190.0;
constexpr double k_map_height = 290.0;
constexpr double k_least_map_height = 195.0; // lower, and the figures in it crowd
constexpr double k_small_height = 190.0;

void modes_note(Flow& flow, modes::Part part) {
    flow.paragraph(
        part == modes::Part::body
            ? say("Frequencies in Hz. Spread: one standard deviation from tap to tap. Changes with "
                  "95 %. "
                  "A0 is the air's mode, CBR the rhomboid of the middle bouts, B1− and B1+ the two "
                  "lowest that bend the corpus.")
            : say("Frequencies in Hz. Spread: one standard deviation from tap to tap. ± and "
                  "what is expected after one gram more: intervals of 95 %; that rests on the "
                  "sessions so far, not on where the wood comes off."),
        true);
}

void modes_part(Flow& flow, const PlateSheet& sheet) {
    const FlowTable table = mode_table(sheet);
    if (table.rows.empty()) {
        flow.paragraph(say("No modes have been found yet."));
        return;
    }
    flow.heading(say("Modes"));
    flow.table(table);
    modes_note(flow, sheet.history.plate.part);
    if (sheet.comparison)
        flow.paragraph(say("Reference: {}.", sheet.reference) +
                       (sheet.comparison->doubt.empty() ? "" : " " + sheet.comparison->doubt));
    for (const std::string& remark : sheet.remarks)
        flow.paragraph(remark);
}

void map_part(Flow& flow, const PlateSheet& sheet) {
    if (!sheet.map)
        return;
    constexpr double k_heading = 20.0;
    const double room = flow.room() - k_heading;
    const double height = room >= k_least_map_height ? std::min(room, k_map_height) : k_map_height;
    flow.heading(say("Thickness"), height);
    flow.beside(
        height,
        {.share = 0.5,
         .draw = [&](const plot::Box& box, plot::Canvas& canvas) { draw_map(sheet, box, canvas); }},
        facts_of(sheet, *sheet.map));
}

void bending_part(Flow& flow, const ledger::PlateHistory& history) {
    FlowTable flex =
        table_of({Column{"date", 1.4}, Column{"bent", 1.4}, Column{"span mm", 1.0, true},
                  Column{"load g", 1.0, true}, Column{"gave mm", 1.0, true}});
    FlowTable pins = table_of({Column{"date", 1.4}, Column{"x mm", 0.8, true},
                               Column{"y mm", 0.8, true}, Column{"note", 6.0}});
    for (const ledger::SessionHistory& session : history.sessions) {
        const std::string date = base::local_date(session.session.begun);
        for (const ledger::FlexRecord& f : session.flex)
            flex.rows.push_back({date, std::string(to_text(f.kind)), figure(f.span_mm, 1),
                                 figure(f.load_g, 0), figure(f.deflection_mm, 2)});
        for (const ledger::PinRecord& p : session.pins)
            pins.rows.push_back({date, signed_figure(p.at.x_mm, 0), figure(p.at.y_mm, 0), p.text});
    }
    if (!flex.rows.empty()) {
        flow.heading(say("Flex by hand"));
        flow.table(flex);
    }
    if (!pins.rows.empty()) {
        flow.heading(say("Pinned notes"));
        flow.table(pins);
    }
}

void plan_part(Flow& flow, const ledger::PlateHistory& history) {
    const auto planned = std::find_if(history.sessions.rbegin(), history.sessions.rend(),
                                      [](const auto& session) { return session.plan.has_value(); });
    if (planned == history.sessions.rend())
        return;
    const ledger::PlanRecord& plan = *planned->plan;
    flow.heading(say("Plan of {}", base::local_date(plan.made)));
    flow.paragraph(plan.summary);
    FlowTable table =
        table_of({Column{"mode", 1.6}, Column{"stood at", 1.0, true}, Column{"wanted", 1.0, true},
                  Column{"after the next pass", 1.6, true}, Column{"after all of it", 1.6, true}});
    for (const ledger::PlannedMode& mode : plan.modes)
        table.rows.push_back(
            {modes::mode_text(mode.number), figure(mode.now_hz, 1), figure(mode.want_hz, 1),
             fmt::format("{} ± {}", figure(mode.pass_hz, 1), figure(base::plus_minus(mode.pass_sd_hz), 1)),
             fmt::format("{} ± {}", figure(mode.after_hz, 1), figure(base::plus_minus(mode.after_sd_hz), 1))});
    flow.table(table);
    flow.paragraph(say("± is an interval of 95 %, from wood and model. Wood taken off can't be "
                       "put back: take one "
                       "pass, then tap and plan again. Scrapers and gouges cut: the work is fixed, "
                       "both hands behind "
                       "the edge. Wood dust is a known cause of nasal cancer and of asthma: "
                       "extract it and wear a "
                       "mask. Local rules and training decide."),
                   true);
}

} // namespace

int write_sheet(const PlateSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed) {
    Flow flow(file, paper, running_line());
    flow.title(sheet.history.plate.label, printed_line(say("Bench sheet"), printed));
    flow.facts(facts_of(sheet.history));
    notes_part(flow, sheet.history.plate.notes);
    if (!sheet.history.sessions.empty()) {
        flow.heading(say("Drift"), k_drift_height);
        flow.figures(k_drift_height,
                     {{.share = 1.0, .draw = [&](const plot::Box& box, plot::Canvas& canvas) {
                           draw_drift(sheet, box, canvas);
                       }}});
        modes_part(flow, sheet);
    }
    map_part(flow, sheet);
    plan_part(flow, sheet.history);
    if (!sheet.history.sessions.empty()) {
        flow.heading(say("Sessions"));
        flow.table(session_table(sheet));
    }
    bending_part(flow, sheet.history);
    flow.finish();
    return flow.pages();
}

int write_sheet(const InstrumentSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed) {
    Flow flow(file, paper, running_line());
    flow.title(sheet.instrument.label, printed_line(say("Record of making"), printed));
    Facts facts;
    facts.emplace_back(say("Instrument"), modes::to_text(sheet.instrument.kind));
    facts.emplace_back(say("Begun"), base::local_date(sheet.instrument.created));
    flow.facts(facts);
    notes_part(flow, sheet.instrument.notes);
    for (const PlateSheet& plate : sheet.plates) {
        flow.heading(plate.history.plate.label, 40.0 + k_small_height);
        flow.facts(facts_of(plate.history));
        notes_part(flow, plate.history.plate.notes);
        if (plate.history.sessions.empty())
            continue;
        std::vector<Flow::Figure> figures{
            {.share = plate.map ? 0.6 : 1.0,
             .draw = [&plate](const plot::Box& box, plot::Canvas& canvas) {
                 draw_drift(plate, box, canvas);
             }}};
        if (plate.map)
            figures.push_back(
                {.share = 0.4, .draw = [&plate](const plot::Box& box, plot::Canvas& canvas) {
                     draw_map(plate, box, canvas);
                 }});
        flow.figures(k_small_height, figures);
        flow.table(mode_table(plate));
        modes_note(flow, plate.history.plate.part);
        flow.table(session_table(plate));
    }
    flow.finish();
    return flow.pages();
}

} // namespace platewright::report
