#include "report/sheet/sheet_parts.hpp"

#include "base/clock.hpp"
#include "base/interval.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using wording::figure;
using wording::say;
using wording::signed_figure;

constexpr std::size_t k_most_modes = 9;

bool of_body(const PlateSheet& sheet) { return sheet.history.plate.part == modes::Part::body; }

/// The newest session in which modes were found.
const ledger::SessionHistory* newest_with_modes(const ledger::PlateHistory& history) {
    const auto found = std::find_if(history.sessions.rbegin(), history.sessions.rend(),
                                    [](const auto& session) { return !session.modes.empty(); });
    return found == history.sessions.rend() ? nullptr : &*found;
}

/// Named modes, then the strongest others, all by frequency.
std::vector<const ledger::ModeRecord*> shown_modes(const ledger::SessionHistory& session) {
    std::vector<const ledger::ModeRecord*> shown;
    for (const ledger::ModeRecord& mode : session.modes)
        shown.push_back(&mode);
    std::stable_sort(shown.begin(), shown.end(), [](const auto* a, const auto* b) {
        return a->name.has_value() != b->name.has_value() ? a->name.has_value()
                                                          : a->mode.level_db > b->mode.level_db;
    });
    shown.resize(std::min(shown.size(), k_most_modes));
    std::sort(shown.begin(), shown.end(), [](const auto* a, const auto* b) {
        return a->mode.frequency_hz < b->mode.frequency_hz;
    });
    return shown;
}

/// The place of the track that ends in this mode; as many as there are where none does.
std::size_t track_of(const PlateSheet& sheet, const ledger::ModeRecord& mode) {
    const auto& tracks = sheet.drift.tracks;
    return static_cast<std::size_t>(
        std::find_if(tracks.begin(), tracks.end(),
                     [&](const trends::TrackDrift& drift) {
                         return !drift.track.points.empty() &&
                                drift.track.points.back().value.frequency_hz ==
                                    mode.mode.frequency_hz;
                     }) -
        tracks.begin());
}

std::string change_text(const std::optional<trends::Change>& change) {
    return change ? wording::signed_with_range(change->hz, change->hz_sd, 1) : k_none;
}

const trends::ComparedMode* compared(const PlateSheet& sheet, const ledger::ModeRecord& mode) {
    if (!sheet.comparison)
        return nullptr;
    for (const trends::ComparedMode& one : sheet.comparison->modes)
        if (one.plate && one.plate->frequency_hz == mode.mode.frequency_hz)
            return &one;
    return nullptr;
}

std::vector<std::string> mode_row(const PlateSheet& sheet, const ledger::ModeRecord& record) {
    const modes::Mode& mode = record.mode;
    std::vector<std::string> row{record.name ? modes::mode_text(record.name->number) : k_none,
                                 figure(mode.frequency_hz, 1), figure(mode.spread_hz, 2),
                                 figure(mode.q, 0), std::to_string(mode.taps)};
    const std::size_t track = track_of(sheet, record);
    std::string since_last = k_none, since_first = k_none, slope = k_none, next = k_none;
    if (track < sheet.drift.tracks.size()) {
        since_last = change_text(sheet.drift.tracks[track].since_last);
        since_first = change_text(sheet.drift.tracks[track].since_beginning);
        if (const auto& forecast = sheet.drift.tracks[track].forecast) {
            const double step_g = sheet.drift.told_step_g;
            slope =
                wording::with_range(step_g * forecast->hz_per_g, step_g * forecast->hz_per_g_sd, 1);
            if (const auto& ahead = forecast->step_on) {
                const int decimals = ahead->value < 100.0 ? 1 : 0;
                next = say("{} ({} to {})", figure(ahead->value, decimals),
                           figure(ahead->low, decimals), figure(ahead->high, decimals));
            }
        }
    }
    row.insert(row.end(), {since_last, since_first});
    if (!of_body(sheet))
        row.insert(row.end(), {slope, next});
    if (sheet.comparison) {
        const trends::ComparedMode* beside = compared(sheet, record);
        row.push_back(beside && beside->reference ? figure(beside->reference->frequency_hz, 1)
                                                  : k_none);
        row.push_back(beside && beside->cents ? signed_figure(*beside->cents, 0) : k_none);
    }
    return row;
}

/// The modes a session's line names.
std::vector<int> named_by(const PlateSheet& sheet) {
    std::vector<int> numbers = trends::steered_by(sheet.history.plate.part);
    if (of_body(sheet) && trends::find_track(sheet.drift, modes::k_cbr) != nullptr)
        numbers.insert(numbers.begin() + 1, modes::k_cbr);
    return numbers;
}

std::string named_hz(const ledger::SessionHistory& session, int number) {
    const ledger::ModeRecord* mode = trends::find_mode(session.modes, number);
    return mode == nullptr ? k_none : figure(mode->mode.frequency_hz, 1);
}

} // namespace

std::string or_dash(const std::optional<double>& value, int decimals) {
    return value ? figure(*value, decimals) : k_none;
}

void add(FlowTable& table, std::initializer_list<Column> columns) {
    for (const Column& column : columns)
        table.columns.push_back({std::string(say(column.head)), column.share, column.figures});
}

FlowTable table_of(std::initializer_list<Column> columns) {
    FlowTable table;
    add(table, columns);
    return table;
}

std::string running_line() {
    return std::string(say(
        "Platewright. Wood taken off can't be put back: small steps, and a fresh tapping between. "
        "Edges cut, wood dust harms: local rules decide."));
}

std::string printed_line(std::string_view what, base::Timestamp printed) {
    return say("{}, printed {}", what, base::local_date(printed));
}

std::string days_text(std::size_t count, base::Timestamp first, base::Timestamp last) {
    const std::string from = base::local_date(first), to = base::local_date(last);
    return from == to ? fmt::format("{}, {}", count, from) : say("{}, {} to {}", count, from, to);
}

void notes_part(Flow& flow, const std::string& notes) {
    if (!notes.empty())
        flow.paragraph(say("Notes: {}", notes));
}

Facts facts_of(const ledger::PlateHistory& history) {
    const ledger::PlateRecord& plate = history.plate;
    Facts facts;
    facts.emplace_back(plate.part == modes::Part::body ? say("Body") : say("Plate"),
                       say("{} of “{}”, {}", modes::to_text(plate.part), history.instrument.label,
                           modes::to_text(history.instrument.kind)));
    if (!plate.wood.empty())
        facts.emplace_back(say("Wood"), plate.wood);
    if (history.wood)
        facts.emplace_back(say("Carved from"), history.wood->wood.label);
    if (plate.density_kg_m3)
        facts.emplace_back(say("Density"), say("{} kg/m³", figure(*plate.density_kg_m3, 0)));
    if (const auto& form = history.form) {
        facts.emplace_back(say("Length, widths"),
                           say("{}; {}, {}, {} mm", figure(form->size.length_mm, 1),
                               figure(form->size.upper_mm, 1), figure(form->size.waist_mm, 1),
                               figure(form->size.lower_mm, 1)));
        facts.emplace_back(say("Arch, pieces"),
                           say("{} mm high; {}", figure(form->arching.arch_mm, 1),
                               form->two_piece ? say("two pieces") : say("one piece")));
        if (form->has_rings())
            facts.emplace_back(say("Rings off upright"),
                               say("{}° left, {}° right", or_dash(form->rings_left_deg, 0),
                                   or_dash(form->rings_right_deg, 0)));
        if (form->run_out_deg)
            facts.emplace_back(say("Run-out"), say("{}°", figure(*form->run_out_deg, 0)));
    }
    if (history.sessions.empty())
        return facts;
    const ledger::SessionRecord& first = history.sessions.front().session;
    const ledger::SessionRecord& last = history.sessions.back().session;
    facts.emplace_back(say("Sessions"),
                       days_text(history.sessions.size(), first.begun, last.begun));
    facts.emplace_back(say("Stage"), modes::to_text(last.stage));
    if (last.mass_g)
        facts.emplace_back(say("Mass"), first.mass_g && history.sessions.size() > 1
                                            ? say("{} g, from {} g", figure(*last.mass_g, 1),
                                                  figure(*first.mass_g, 1))
                                            : say("{} g", figure(*last.mass_g, 1)));
    return facts;
}

Facts map_facts(const PlateSheet& sheet) {
    const ledger::SessionHistory& session = sheet.history.sessions.at(sheet.map->session);
    Facts facts = trends::facts_of(*sheet.map, sheet.history);
    facts.emplace(facts.begin(), say("Measured"),
                  say("{}, {} readings", base::local_date(session.session.begun),
                      session.thickness.readings.size()));
    facts.emplace_back(say("Places"),
                       say("seen from outside: x from the centre line, positive to the right; "
                           "y from the lower end, in mm"));
    for (const std::string& remark : sheet.map->remarks)
        facts.emplace_back("", remark);
    return facts;
}

FlowTable mode_table(const PlateSheet& sheet) {
    FlowTable table =
        table_of({Column{"mode", 1.75}, Column{"Hz", 1.0, true}, Column{"spread", 0.95, true},
                  Column{"Q", 0.6, true}, Column{"taps", 0.7, true},
                  Column{"since last", 1.5, true}, Column{"since first", 1.6, true}});
    if (!of_body(sheet)) {
        const double step_g = sheet.drift.told_step_g;
        table.columns.push_back(
            {step_g > 1.0 ? say("Hz per {} g", figure(step_g, 0)) : std::string(say("Hz per g")),
             1.25, true});
        table.columns.push_back({trends::told_step_words(sheet.drift), 2.3, true});
    }
    if (sheet.comparison)
        add(table, {Column{"reference", 1.3, true}, Column{"cents", 0.85, true}});
    if (const ledger::SessionHistory* session = newest_with_modes(sheet.history))
        for (const ledger::ModeRecord* mode : shown_modes(*session))
            table.rows.push_back(mode_row(sheet, *mode));
    return table;
}

FlowTable session_table(const PlateSheet& sheet) {
    const bool body = of_body(sheet);
    FlowTable table = table_of({Column{"date", 2.35}, Column{"stage", 2.9}, Column{"g", 1.1, true},
                                Column{"°C", 0.95, true}, Column{"% RH", 1.0, true},
                                Column{"moist. %", 1.2, true}});
    table.columns.insert(table.columns.begin(), {"", 0.55, true});
    const std::vector<int> numbers = named_by(sheet);
    for (const int number : numbers)
        table.columns.push_back({modes::short_mode_text(number), 1.35, true});
    if (!body)
        table.columns.push_back({std::string(say("5 : 2")), 1.0, true});
    table.columns.push_back({std::string(say("notes")), 4.7});
    for (std::size_t i = 0; i < sheet.history.sessions.size(); ++i) {
        const ledger::SessionHistory& one = sheet.history.sessions[i];
        const ledger::SessionRecord& s = one.session;
        std::vector<std::string> row{std::to_string(i + 1),
                                     base::local_date(s.begun),
                                     std::string(modes::to_text(s.stage)),
                                     or_dash(s.mass_g, 1),
                                     or_dash(s.temperature_c, 1),
                                     or_dash(s.humidity_pct, 0),
                                     or_dash(sheet.drift.moisture_pct.at(i), 1)};
        for (const int number : numbers)
            row.push_back(named_hz(one, number));
        if (!body)
            row.push_back(or_dash(sheet.drift.ratio_5_to_2.at(i), 2));
        row.push_back(s.notes);
        table.rows.push_back(std::move(row));
    }
    return table;
}

} // namespace platewright::report
