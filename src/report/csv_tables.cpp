#include "report/csv_tables.hpp"

#include "base/clock.hpp"
#include "base/utf8.hpp"

#include <array>
#include <fmt/format.h>
#include <iterator>

namespace platewright::report {
namespace {

using Cells = std::vector<std::string>;

enum Table : std::size_t { plates, sessions, modes_, taps_, partials, thickness, flex, pins };

constexpr std::string_view k_session_keys = "instrument,plate,part,session";
struct Head {
    std::string_view name, columns; // after the keys
};
constexpr std::array k_heads{
    Head{"plates", "kind,wood,density_kg_m3,notes,instrument_notes,sessions"},
    Head{"sessions", "stage,mass_g,temperature_c,humidity_pct,notes"},
    Head{"modes", "number,named_by_maker,hz,hz_sd,spread_hz,q,q_sd,level_db,taps,analysis"},
    Head{"taps", "tap,at,verdict,spot,peak_dbfs,noise_dbfs,recording,analysis"},
    Head{"partials", "tap,hz,hz_sd,q,q_sd,level_db,level_dbfs,phase_rad"},
    Head{"thickness", "x_mm,y_mm,thickness_mm,name"},
    Head{"flex", "kind,span_mm,load_g,deflection_mm"},
    Head{"pins", "x_mm,y_mm,text"},
};

std::string number(double value) { return fmt::format("{}", value); }
std::string number(const std::optional<double>& value) { return value ? number(*value) : ""; }

/// Words of a person: a spreadsheet must not take them for a formula.
std::string words(const std::string& text) {
    constexpr std::string_view formula = "=+-@\t\r";
    const std::string safe = base::harmless(text, base::Lines::keep);
    return !safe.empty() && formula.find(safe.front()) != std::string_view::npos ? "'" + safe
                                                                                 : safe;
}

bool is_number(const std::string& cell) {
    return !cell.empty() && cell.find_first_not_of("0123456789.+-e") == std::string::npos;
}

std::string quoted(const std::string& cell) {
    std::string out = "\"";
    for (const char c : cell) {
        if (c == '"')
            out += '"';
        out += c;
    }
    return out + "\"";
}

Cells split(std::string_view names) {
    Cells cells;
    while (!names.empty()) {
        const auto comma = names.find(',');
        cells.emplace_back(names.substr(0, comma));
        names.remove_prefix(comma == std::string_view::npos ? names.size() : comma + 1);
    }
    return cells;
}

} // namespace

CsvTables::CsvTables(CsvStyle style) : style_(style) {
    for (const Head& head : k_heads) {
        tables_.push_back({std::string(head.name) + ".csv", {}});
        Cells keys = split(k_session_keys);
        if (head.name == "plates")
            keys.pop_back();
        line(tables_.size() - 1, keys, split(head.columns));
    }
}

void CsvTables::line(std::size_t table, Cells begin, Cells more) {
    begin.insert(begin.end(), std::make_move_iterator(more.begin()),
                 std::make_move_iterator(more.end()));
    const bool comma = style_ == CsvStyle::comma;
    std::string& text = tables_[table].text;
    for (std::size_t i = 0; i < begin.size(); ++i) {
        std::string& cell = begin[i];
        if (comma && is_number(cell))
            if (const auto point = cell.find('.'); point != std::string::npos)
                cell[point] = ',';
        if (i > 0)
            text += comma ? ';' : ',';
        text += cell.find_first_of(comma ? "\";\r\n" : "\",\r\n") == std::string::npos
                    ? cell
                    : quoted(cell);
    }
    text += "\r\n";
}

void CsvTables::add(const ledger::PlateHistory& history) {
    const ledger::PlateRecord& plate = history.plate;
    Cells begin{words(history.instrument.label), words(plate.label),
                std::string(modes::to_word(plate.part))};
    line(Table::plates, begin,
         {std::string(modes::to_word(history.instrument.kind)), words(plate.wood),
          number(plate.density_kg_m3), words(plate.notes), words(history.instrument.notes),
          std::to_string(history.sessions.size())});
    begin.emplace_back();
    for (const ledger::SessionHistory& session : history.sessions) {
        begin.back() = base::local_date_time(session.session.begun);
        add_session(begin, session);
    }
}

void CsvTables::add_session(const Cells& begin, const ledger::SessionHistory& one) {
    const ledger::SessionRecord& s = one.session;
    line(Table::sessions, begin,
         {std::string(modes::to_word(s.stage)), number(s.mass_g), number(s.temperature_c),
          number(s.humidity_pct), words(s.notes)});
    for (const ledger::ModeRecord& m : one.modes)
        line(Table::modes_, begin,
             {m.name ? std::to_string(m.name->number) : "",
              m.name ? (m.name->by_maker ? "yes" : "no") : "", number(m.mode.frequency_hz),
              number(m.mode.frequency_sd_hz), number(m.mode.spread_hz), number(m.mode.q),
              number(m.mode.q_sd), number(m.mode.level_db), std::to_string(m.mode.taps),
              words(m.analysis_version)});
    int count = 0;
    for (const ledger::TapRecord& t : one.taps) {
        const std::string tap = std::to_string(++count);
        line(Table::taps_, begin,
             {tap, base::to_iso(t.at), std::string(taps::to_word(t.verdict)),
              std::string(taps::to_word(t.spot)), number(t.peak_dbfs), number(t.noise_dbfs),
              words(t.recording), words(t.analysis_version)});
        for (const modes::Partial& p : t.partials)
            line(Table::partials, begin,
                 {tap, number(p.frequency_hz), number(p.frequency_sd_hz), number(p.q),
                  number(p.q_sd), number(p.level_db), number(p.level_dbfs), number(p.phase_rad)});
    }
    for (const plate::ThicknessReading& r : one.thickness.readings)
        line(Table::thickness, begin,
             {number(r.at.x_mm), number(r.at.y_mm), number(r.thickness_mm), words(r.name)});
    for (const ledger::FlexRecord& f : one.flex)
        line(Table::flex, begin,
             {std::string(to_word(f.kind)), number(f.span_mm), number(f.load_g),
              number(f.deflection_mm)});
    for (const ledger::PinRecord& p : one.pins)
        line(Table::pins, begin, {number(p.at.x_mm), number(p.at.y_mm), words(p.text)});
}

std::vector<CsvTable> CsvTables::finish() && { return std::move(tables_); }

} // namespace platewright::report
