#include "report/sheet_parts.hpp"

#include "base/clock.hpp"
#include "base/text.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using base::fixed;
using base::signed_fixed;

constexpr const char* k_none = "–";
constexpr std::size_t k_most_modes = 9;

std::string or_dash(const std::optional<double>& value, int decimals) {
    return value ? fixed(*value, decimals) : k_none;
}

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
    return change ? fmt::format("{} ± {}", signed_fixed(change->hz, 1), fixed(2 * change->hz_sd, 1))
                  : k_none;
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
                                 fixed(mode.frequency_hz, 1), fixed(mode.spread_hz, 2),
                                 fixed(mode.q, 0), std::to_string(mode.taps)};
    const std::size_t track = track_of(sheet, record);
    std::string since_last = k_none, since_first = k_none, slope = k_none, next = k_none;
    if (track < sheet.drift.tracks.size()) {
        since_last = change_text(sheet.drift.tracks[track].since_last);
        since_first = change_text(sheet.drift.tracks[track].since_beginning);
        if (const auto& forecast = sheet.forecasts.at(track)) {
            const trends::Interval ahead = trends::hz_at(*forecast, forecast->mass_g - 1.0);
            slope = fmt::format("{} ± {}", fixed(forecast->hz_per_g, 1),
                                fixed(forecast->hz_per_g_sd, 1));
            next = fmt::format("{} ({} to {})", fixed(ahead.value, 0), fixed(ahead.low, 0),
                               fixed(ahead.high, 0));
        }
    }
    row.insert(row.end(), {since_last, since_first, slope, next});
    if (sheet.comparison) {
        const trends::ComparedMode* beside = compared(sheet, record);
        row.push_back(beside && beside->reference ? fixed(beside->reference->frequency_hz, 1)
                                                  : k_none);
        row.push_back(beside && beside->cents ? signed_fixed(*beside->cents, 0) : k_none);
    }
    return row;
}

std::string named_hz(const ledger::SessionHistory& session, int number) {
    for (const ledger::ModeRecord& mode : session.modes)
        if (mode.name && mode.name->number == number)
            return fixed(mode.mode.frequency_hz, 1);
    return k_none;
}

} // namespace

const char* const k_running = "Platewright. Wood taken off can't be put back: small steps, and a "
                              "fresh tapping between. Edges "
                              "cut, wood dust harms: local rules decide.";

std::string printed_line(std::string_view what, base::Timestamp printed) {
    return fmt::format("{}, printed {}", what, base::local_date(printed));
}

Facts facts_of(const ledger::PlateHistory& history) {
    const ledger::PlateRecord& plate = history.plate;
    Facts facts{
        {"Plate", fmt::format("{} of “{}”, {}", modes::to_text(plate.part),
                              history.instrument.label, modes::to_text(history.instrument.kind))}};
    if (!plate.wood.empty())
        facts.emplace_back("Wood", plate.wood);
    if (plate.density_kg_m3)
        facts.emplace_back("Density", fixed(*plate.density_kg_m3, 0) + " kg/m³");
    if (const auto& form = history.form) {
        facts.emplace_back("Length, widths",
                           fmt::format("{}; {}, {}, {} mm", fixed(form->size.length_mm, 1),
                                       fixed(form->size.upper_mm, 1), fixed(form->size.waist_mm, 1),
                                       fixed(form->size.lower_mm, 1)));
        facts.emplace_back("Arch, pieces",
                           fmt::format("{} mm high; {}", fixed(form->arching.arch_mm, 1),
                                       form->two_piece ? "two" : "one"));
    }
    if (!history.sessions.empty()) {
        const ledger::SessionRecord& first = history.sessions.front().session;
        const ledger::SessionRecord& last = history.sessions.back().session;
        facts.emplace_back("Sessions", fmt::format("{}, {} to {}", history.sessions.size(),
                                                   base::local_date(first.begun),
                                                   base::local_date(last.begun)));
        facts.emplace_back("Stage", std::string(modes::to_text(last.stage)));
        if (last.mass_g)
            facts.emplace_back("Mass", first.mass_g && history.sessions.size() > 1
                                           ? fmt::format("{} g, from {} g", fixed(*last.mass_g, 1),
                                                         fixed(*first.mass_g, 1))
                                           : fixed(*last.mass_g, 1) + " g");
    }
    return facts;
}

Facts facts_of(const PlateSheet& sheet, const trends::MapReview& map) {
    const plate::ThicknessFacts& f = map.facts;
    const ledger::SessionHistory& session = sheet.history.sessions.at(map.session);
    Facts facts{
        {"Measured", fmt::format("{}, {} readings", base::local_date(session.session.begun),
                                 session.thickness.readings.size())},
        {"Mean", fixed(f.mean_mm, 2) + " mm"},
        {"Middle, edge", fmt::format("{} and {} mm, ratio {}", fixed(f.middle_mm, 2),
                                     fixed(f.edge_mm, 2), fixed(f.middle_to_edge, 2))},
        {"Left less right", signed_fixed(f.left_less_right_mm, 2) + " mm"},
        {"Thinnest", fmt::format("{} ± {} mm at x {}, y {}", fixed(f.thinnest_mm, 2),
                                 fixed(f.thinnest_sd_mm, 2), signed_fixed(f.thinnest.x_mm, 0),
                                 fixed(f.thinnest.y_mm, 0))},
        {"Mass by the map",
         fmt::format("{} g with {} kg/m³ ({})", fixed(map.predicted_g, 1),
                     fixed(map.density_kg_m3, 0), map.density_is_own ? "its own" : "handbook")}};
    if (map.weighed_g)
        facts.emplace_back("Weighed", fixed(*map.weighed_g, 1) + " g");
    if (map.change)
        facts.emplace_back(
            "Taken off",
            fmt::format(
                "{} mm on the mean since {}, most {} ± {} mm at x {}, y {}",
                fixed(map.change->mean_mm, 2),
                base::local_date(sheet.history.sessions.at(map.change->session).session.begun),
                fixed(map.change->deepest_mm, 2), fixed(map.change->deepest_sd_mm, 2),
                signed_fixed(map.change->deepest.x_mm, 0), fixed(map.change->deepest.y_mm, 0)));
    facts.emplace_back("Places",
                       "seen from outside: x from the centre line, positive to the right; "
                       "y from the lower end, in mm");
    for (const std::string& remark : map.remarks)
        facts.emplace_back("", remark);
    return facts;
}

FlowTable mode_table(const PlateSheet& sheet) {
    FlowTable table{.columns = {{"mode", 1.75},
                                {"Hz", 1.0, true},
                                {"spread", 0.95, true},
                                {"Q", 0.6, true},
                                {"taps", 0.7, true},
                                {"since last", 1.5, true},
                                {"since first", 1.6, true},
                                {"Hz per g", 1.25, true},
                                {"after 1 g more", 2.1, true}},
                    .rows = {}};
    if (sheet.comparison) {
        table.columns.push_back({"reference", 1.3, true});
        table.columns.push_back({"cents", 0.85, true});
    }
    if (const ledger::SessionHistory* session = newest_with_modes(sheet.history))
        for (const ledger::ModeRecord* mode : shown_modes(*session))
            table.rows.push_back(mode_row(sheet, *mode));
    return table;
}

FlowTable session_table(const PlateSheet& sheet) {
    FlowTable table{.columns = {{"", 0.55, true},
                                {"date", 2.0},
                                {"stage", 1.95},
                                {"g", 1.1, true},
                                {"°C", 0.95, true},
                                {"% RH", 1.0, true},
                                {"moist. %", 1.2, true},
                                {"mode 1", 1.35, true},
                                {"mode 2", 1.35, true},
                                {"mode 5", 1.35, true},
                                {"5 : 2", 1.0, true},
                                {"notes", 5.6}},
                    .rows = {}};
    for (std::size_t i = 0; i < sheet.history.sessions.size(); ++i) {
        const ledger::SessionHistory& one = sheet.history.sessions[i];
        const ledger::SessionRecord& s = one.session;
        table.rows.push_back(
            {std::to_string(i + 1), base::local_date(s.begun), std::string(modes::to_text(s.stage)),
             or_dash(s.mass_g, 1), or_dash(s.temperature_c, 1), or_dash(s.humidity_pct, 0),
             or_dash(sheet.drift.moisture_pct.at(i), 1), named_hz(one, 1), named_hz(one, 2),
             named_hz(one, 5), or_dash(sheet.drift.ratio_5_to_2.at(i), 2), s.notes});
    }
    return table;
}

void draw_drift(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas) {
    plot::draw(plot::drift_chart(sheet.chart, plot::paper_palette()), box, canvas,
               plot::paper_palette(), {.text_height = 8.4, .line_scale = 0.75});
}

void draw_map(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas) {
    plot::draw(sheet.map_picture, box, canvas, plot::paper_palette(),
               {.text_height = 8.4, .line_scale = 0.75});
}

} // namespace platewright::report
