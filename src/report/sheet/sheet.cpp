#include "report/sheet/sheet.hpp"

#include "base/clock.hpp"
#include "plate/plan/plan.hpp"
#include "report/sheet/sheet_parts.hpp"
#include "trends/model/weighed_taps.hpp"
#include "trends/review/pass_review.hpp"

#include <algorithm>
#include <cmath>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;
using wording::signed_figure;

constexpr double k_drift_height = 250.0;
constexpr double k_map_height = 290.0;
constexpr double k_least_map_height = 195.0; // lower, and the figures in it crowd
constexpr double k_small_height = 190.0;
constexpr double k_map_share = 0.5; // of the width

void modes_note(Flow& flow, modes::Part part) {
    flow.paragraph(
        part == modes::Part::body
            ? say("Frequencies in Hz. Spread: one standard deviation from tap to tap. Changes with "
                  "95 %. "
                  "A0 is the air's mode, CBR the rhomboid of the middle bouts, B1− and B1+ the two "
                  "lowest that bend the corpus.")
            : say("Frequencies in Hz. Spread: one standard deviation from tap to tap. ± and "
                  "what is expected after so many grams less: intervals of 95 %; that rests on the "
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
    if (sheet.history.plate.part != modes::Part::body) {
        flow.heading(say("What next"));
        flow.paragraph(trends::sentence_of(sheet.decision) + " " +
                       trends::reason_of(sheet.decision));
    }
    for (const std::string& remark : sheet.remarks)
        flow.paragraph(remark);
}

void map_part(Flow& flow, const PlateSheet& sheet, double scale) {
    if (!sheet.map)
        return;
    constexpr double k_heading = 20.0;
    const double room = flow.room() - k_heading;
    const double full = scale * k_map_height;
    const double height = room >= k_least_map_height ? std::min(room, full) : full;
    flow.heading(say("Thickness"), height);
    flow.beside(
        height,
        {.share = 0.5,
         .draw = [&](const plot::Box& box, plot::Canvas& canvas) { draw_map(sheet, box, canvas); }},
        map_facts(sheet));
}

void bending_part(Flow& flow, const ledger::PlateHistory& history) {
    FlowTable flex =
        table_of({Column{"date", 1.4}, Column{"bent", 1.4}, Column{"span mm", 1.0, true},
                  Column{"load g", 1.0, true}, Column{"gave mm", 1.0, true}});
    FlowTable pins = table_of({Column{"date", 1.4}, Column{"x mm", 0.8, true},
                               Column{"y mm", 0.8, true}, Column{"note", 6.0}});
    FlowTable weighed =
        table_of({Column{"date", 1.4}, Column{"g", 0.6, true}, Column{"x mm", 0.8, true},
                  Column{"y mm", 0.8, true}, Column{"mode", 1.2}, Column{"bare Hz", 1.0, true},
                  Column{"with it Hz", 1.0, true}, Column{"fell by Hz", 1.4, true}});
    for (const ledger::SessionHistory& session : history.sessions) {
        const std::string date = base::local_date(session.session.begun);
        for (const ledger::WeighingRecord& w : session.weighings)
            for (const trends::WeighedModeShift& shift : trends::weighed_shifts(session, w))
                weighed.rows.push_back(
                    {date, figure(w.mass_g, 2), signed_figure(w.at.x_mm, 0), figure(w.at.y_mm, 0),
                     modes::short_mode_text(shift.number), figure(shift.off_hz, 2),
                     figure(shift.on_hz, 2),
                     wording::with_range(-shift.shift_hz(), shift.shift_sd_hz(), 2)});
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
    if (!weighed.rows.empty()) {
        flow.heading(say("Weighed modes"));
        flow.table(weighed);
    }
    if (!pins.rows.empty()) {
        flow.heading(say("Pinned notes"));
        flow.table(pins);
    }
}

FlowTable plan_table(const ledger::PlanRecord& plan) {
    FlowTable table =
        table_of({Column{"mode", 1.6}, Column{"stood at", 1.0, true}, Column{"wanted", 1.0, true},
                  Column{"after the next pass", 1.6, true}, Column{"after all of it", 1.6, true}});
    for (const plate::PlanOutcome& mode : plan.modes)
        table.rows.push_back({modes::mode_text(mode.number), figure(mode.now_hz, 1),
                              figure(mode.want_hz, 1),
                              wording::with_range(mode.pass_hz, mode.pass_sd_hz, 1),
                              wording::with_range(mode.after_hz, mode.after_sd_hz, 1)});
    return table;
}

/// How far a place is from the centre line, and to which side as it is seen from the inside.
std::string from_centre(double x_mm) {
    const std::string far = figure(std::abs(x_mm), 0);
    return std::abs(x_mm) < 0.5 ? say("on it")
           : x_mm > 0.0         ? say("{} left", far)
                                : say("{} right", far);
}

FlowTable zone_table(const std::vector<trends::PlanZone>& zones) {
    FlowTable table = table_of(
        {Column{"where, from the inside", 2.4}, Column{"mean mm", 1.0, true},
         Column{"deepest mm", 1.2, true}, Column{"there, from the lower end, mm", 2.2, true},
         Column{"from the centre line, mm", 2.0, true}, Column{"g", 0.8, true}});
    for (const trends::PlanZone& zone : zones)
        if (trends::is_worth_telling(zone))
            table.rows.push_back({zone.name, figure(zone.mean_mm, 2), figure(zone.deepest_mm, 2),
                                  figure(zone.deepest.y_mm, 0), from_centre(zone.deepest.x_mm),
                                  figure(zone.wood_g, 1)});
    return table;
}

void where_part(Flow& flow, const PlanOnPaper& plan, double scale) {
    if (!plan.trouble.empty()) {
        flow.paragraph(say("Where to take wood can't be drawn: {}", plan.trouble));
        return;
    }
    const double height = scale * k_map_height;
    flow.heading(say("Where to take wood"), height);
    Facts facts;
    if (!plan.doubt.empty())
        facts.emplace_back("", say("Doubtful: {}", plan.doubt));
    for (const plate::PlanOutcome& mode : plan.record.modes)
        facts.emplace_back(modes::mode_text(mode.number),
                           fmt::format("{} \u2192 {} {}", figure(mode.now_hz, 1),
                                       wording::with_range(mode.pass_hz, mode.pass_sd_hz, 1),
                                       say("Hz")));
    facts.emplace_back(
        "", say("The next pass, seen from the inside, scroll end up: left and right are as "
                "they lie before you. Fine lines part the places named below; figures are "
                "depths in mm."));
    flow.beside(height,
                {.share = 0.5,
                 .draw =
                     [&](const plot::Box& box, plot::Canvas& canvas) {
                         plot::draw(plan.picture, box, canvas, plot::paper_palette(),
                                    {.text_height = 8.4, .line_scale = 0.75});
                     }},
                facts);
    flow.table(zone_table(plan.zones));
}

void plan_part(Flow& flow, const PlateSheet& sheet, double scale) {
    if (!sheet.plan)
        return;
    const PlanOnPaper& plan = *sheet.plan;
    std::string title = say("Plan of {}", base::local_date(plan.record.made));
    if (trends::is_of_older_model(plan.record))
        title += ", " + std::string(say("by an earlier version of the model"));
    flow.heading(title);
    if (plan.tapped_since) // its wood may be off already: none is named beside it
        return flow.paragraph(
            say("This plan is older than the session of {}: plan anew before any wood is taken.",
                base::local_date(*plan.tapped_since)));
    if (!plan.doubt.empty())
        flow.paragraph(say("Doubtful: {}", plan.doubt));
    flow.paragraph(say("In all {} g are to come off, {} g of it in the next pass.",
                       figure(plan.record.wood_g, 1),
                       figure(plan.record.pass_share * plan.record.wood_g, 1)));
    flow.table(plan_table(plan.record));
    flow.paragraph(say("± is an interval of 95 %, from wood and model. Wood taken off can't be "
                       "put back: take one "
                       "pass, then tap and plan again. Scrapers and gouges cut: the work is fixed, "
                       "both hands behind "
                       "the edge. Wood dust is a known cause of nasal cancer and of asthma: "
                       "extract it and wear a "
                       "mask. Local rules and training decide."),
                   true);
    where_part(flow, plan, scale);
}

void by_hand_part(Flow& flow) {
    constexpr std::size_t k_least = 3, k_most = 10;
    flow.heading(say("By hand"), 70.0);
    flow.lines_to_write(k_least, k_most);
}

void set_plate(Flow& flow, const PlateSheet& sheet, double scale, base::Timestamp printed) {
    const double drift_height = scale * k_drift_height;
    flow.title(sheet.history.plate.label, printed_line(say("Bench sheet"), printed));
    flow.facts(facts_of(sheet.history));
    notes_part(flow, sheet.history.plate.notes);
    if (!sheet.history.sessions.empty()) {
        flow.heading(say("Drift"), drift_height);
        flow.figures(drift_height,
                     {{.share = 1.0, .draw = [&](const plot::Box& box, plot::Canvas& canvas) {
                           draw_drift(sheet, box, canvas);
                       }}});
        modes_part(flow, sheet);
    }
    map_part(flow, sheet, scale);
    plan_part(flow, sheet, scale);
    if (!sheet.history.sessions.empty()) {
        flow.heading(say("Sessions"));
        flow.table(session_table(sheet));
    }
    bending_part(flow, sheet.history);
    by_hand_part(flow);
}

/// The day that the first thing is known of, whichever was entered first.
base::Timestamp begun(const InstrumentSheet& sheet) {
    base::Timestamp first = sheet.instrument.created;
    for (const PlateSheet& plate : sheet.plates)
        for (const ledger::SessionHistory& one : plate.history.sessions)
            first = std::min(first, one.session.begun);
    return first;
}

void set_instrument(Flow& flow, const InstrumentSheet& sheet, double scale,
                    base::Timestamp printed) {
    const double height = scale * k_small_height, drift_height = scale * k_drift_height;
    flow.title(sheet.instrument.label, printed_line(say("Record of making"), printed));
    Facts facts;
    facts.emplace_back(say("Instrument"), modes::to_text(sheet.instrument.kind));
    facts.emplace_back(say("Begun"), base::local_date(begun(sheet)));
    flow.facts(facts);
    notes_part(flow, sheet.instrument.notes);
    for (const PlateSheet& plate : sheet.plates) {
        flow.heading(plate.history.plate.label, 40.0 + drift_height);
        flow.facts(facts_of(plate.history));
        notes_part(flow, plate.history.plate.notes);
        if (plate.history.sessions.empty())
            continue;
        flow.figures(drift_height,
                     {{.share = 1.0, .draw = [&plate](const plot::Box& box, plot::Canvas& canvas) {
                           draw_drift(plate, box, canvas);
                       }}});
        if (plate.map)
            flow.figures(height, {{.share = k_map_share,
                                   .draw = [&plate](const plot::Box& box, plot::Canvas& canvas) {
                                       draw_map(plate, box, canvas);
                                   }}});
        flow.table(mode_table(plate));
        modes_note(flow, plate.history.plate.part);
        flow.table(session_table(plate));
    }
    by_hand_part(flow);
}

} // namespace

int write_sheet(const PlateSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed) {
    return lay_out(file, paper, running_line(),
                   [&](Flow& flow, double scale) { set_plate(flow, sheet, scale, printed); });
}

int write_sheet(const InstrumentSheet& sheet, const std::filesystem::path& file, Paper paper,
                base::Timestamp printed) {
    return lay_out(file, paper, running_line(),
                   [&](Flow& flow, double scale) { set_instrument(flow, sheet, scale, printed); });
}

} // namespace platewright::report
