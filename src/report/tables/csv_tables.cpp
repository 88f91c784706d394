#include "report/tables/csv_tables.hpp"

#include "base/clock.hpp"
#include "base/utf8.hpp"
#include "ledger/shape_columns.hpp"
#include "ledger/wood_columns.hpp"
#include "trends/model/weighed_taps.hpp"

#include <array>
#include <fmt/format.h>
#include <iterator>
#include <type_traits>
#include <utility>

namespace platewright::report {
namespace {

// The tables and their columns, in one order.

enum Table : std::size_t {
    plates,
    sessions,
    modes_,
    taps_,
    partials,
    thickness,
    flex,
    weighings,
    pins,
    targets,
    plans,
    plan_modes,
    plan_strokes,
    references,
    shapes,
    outlines,
    f_holes,
    heights,
    woods,
    wood_tests,
    wood_modes
};

enum class Keys { plate, session, none };
constexpr std::string_view k_plate_keys = "instrument,plate,part,plate_id";
constexpr std::string_view k_session_keys = "session,session_id";
struct Head {
    std::string_view name;
    std::string columns; // after the keys
    Keys keys = Keys::session;
};

/// Calls `use` for what tables show of a record; moments are keys.
template <class Record, class Use>
void for_each_cell(const Use& use) {
    ledger::for_each_shown<Record>([&](std::string_view name, const auto& column) {
        using Field = std::remove_cvref_t<decltype(column.of(std::declval<Record&>()))>;
        if constexpr (!std::is_same_v<Field, base::Timestamp>)
            use(name, column);
    });
}

/// "stage,mass_g,temperature_c,humidity_pct,notes"
template <class Record>
std::string columns_of() {
    std::string names;
    for_each_cell<Record>([&](std::string_view name, const auto&) {
        names += names.empty() ? "" : ",";
        names += name;
    });
    return names;
}

const std::array k_heads{
    Head{"plates",
         "kind,wood,density_kg_m3,notes,instrument_notes,sessions,carved_from,body_length_mm",
         Keys::plate},
    Head{"sessions", columns_of<ledger::SessionRecord>()},
    Head{"modes", "number,named_by_maker," + columns_of<modes::Mode>() + ",analysis"},
    Head{"taps", "tap,at,verdict,spot,peak_dbfs,noise_dbfs,recording,analysis"},
    Head{"partials", "tap," + columns_of<modes::Partial>()},
    Head{"thickness", columns_of<plate::ThicknessReading>()},
    Head{"flex", columns_of<ledger::FlexRecord>()},
    Head{"weighings", "weighing,begun," + columns_of<ledger::WeighingRecord>() +
                          ",number,off_hz,on_hz,drift_hz,ln_ratio_sd"},
    Head{"pins", columns_of<ledger::PinRecord>()},
    Head{"targets", columns_of<ledger::TargetRecord>(), Keys::plate},
    Head{"plans", "made," + columns_of<ledger::PlanRecord>()},
    Head{"plan_modes", "made," + columns_of<plate::PlanOutcome>()},
    Head{"plan_strokes", "made," + columns_of<plate::Stroke>()},
    Head{"references", "label"},
    Head{"shapes",
         columns_of<ledger::FormRecord>() + ",upper_eye_x_mm,upper_eye_y_mm,lower_eye_x_mm,"
                                            "lower_eye_y_mm,bar_width_mm,bar_height_mm",
         Keys::plate},
    Head{"outlines", columns_of<plate::Point>(), Keys::plate},
    Head{"f_holes", "hole,x_mm,y_mm", Keys::plate},
    Head{"heights", columns_of<plate::HeightReading>(), Keys::plate},
    Head{"woods", "wood,wood_id,species,origin,notes,created", Keys::none},
    Head{"wood_tests", "wood,wood_id,test_id,at," + columns_of<ledger::WoodTestRecord>(),
         Keys::none},
    Head{"wood_modes", "wood,wood_id,test_id," + columns_of<ledger::WoodModeRecord>(), Keys::none},
};

CsvCell count_cell(std::int64_t count) { return {fmt::format("{}", count), true}; }
CsvCell yes_or_no(bool yes) { return {yes ? "yes" : "no"}; }
template <class T>
CsvCell word_cell(T value) {
    return {std::string(to_word(value))};
}

std::string in_quotes(const std::string& cell) {
    std::string out = "\"";
    for (const char c : cell) {
        if (c == '"')
            out += '"';
        out += c;
    }
    return out + "\"";
}

CsvCell cell_of(double value) { return number_cell(value); }
CsvCell cell_of(const std::optional<double>& value) { return number_cell(value); }
CsvCell cell_of(const std::string& words) { return words_cell(words); }
CsvCell cell_of(int count) { return count_cell(count); }
template <class Word>
requires std::is_enum_v<Word> CsvCell cell_of(Word word) { return word_cell(word); }

/// Under columns_of(), with what stands before them.
template <class Record>
CsvCells cells_of(const Record& record, CsvCells before = {}) {
    for_each_cell<Record>([&](std::string_view, const auto& column) {
        const auto& field = column.of(record);
        if constexpr (std::is_same_v<std::remove_cvref_t<decltype(field)>, bool>)
            before.push_back(column.asked.takes == ledger::Takes::pieces ? count_cell(field ? 2 : 1)
                                                                         : yes_or_no(field));
        else
            before.push_back(cell_of(field));
    });
    return before;
}

CsvCells split(std::string_view names) {
    CsvCells cells;
    while (!names.empty()) {
        const auto comma = names.find(',');
        cells.push_back({std::string(names.substr(0, comma))});
        names.remove_prefix(comma == std::string_view::npos ? names.size() : comma + 1);
    }
    return cells;
}

} // namespace

CsvCell number_cell(double value) { return {fmt::format("{}", value), true}; }
CsvCell number_cell(const std::optional<double>& value) {
    return value ? number_cell(*value) : CsvCell{};
}

CsvCell words_cell(std::string_view words) {
    constexpr std::string_view formula = "=+-@\t\r";
    const std::string safe = base::harmless(words, base::Lines::keep);
    const bool is_formula = !safe.empty() && formula.find(safe.front()) != std::string_view::npos;
    return {(is_formula ? "'" : "") + safe};
}

CsvTables::CsvTables(CsvStyle style) : style_(style) {
    for (const Head& head : k_heads) {
        tables_.push_back({std::string(head.name) + ".csv", {}});
        CsvCells keys = split(head.keys == Keys::none ? "" : k_plate_keys);
        if (head.keys == Keys::session)
            for (CsvCell& key : split(k_session_keys))
                keys.push_back(std::move(key));
        line(tables_.size() - 1, keys, split(head.columns));
    }
}

void CsvTables::line(std::size_t table, CsvCells begin, CsvCells more) {
    begin.insert(begin.end(), std::make_move_iterator(more.begin()),
                 std::make_move_iterator(more.end()));
    const bool comma = style_ == CsvStyle::comma;
    std::string& text = tables_[table].text;
    for (std::size_t i = 0; i < begin.size(); ++i) {
        std::string& cell = begin[i].text;
        if (comma && begin[i].is_number)
            if (const auto point = cell.find('.'); point != std::string::npos)
                cell[point] = ',';
        if (i > 0)
            text += comma ? ';' : ',';
        text += cell.find_first_of(comma ? "\";\r\n" : "\",\r\n") == std::string::npos
                    ? cell
                    : in_quotes(cell);
    }
    text += "\r\n";
}

void CsvTables::add(const ledger::PlateHistory& history) {
    const ledger::PlateRecord& plate = history.plate;
    CsvCells begin{words_cell(history.instrument.label), words_cell(plate.label),
                   word_cell(plate.part), count_cell(plate.id)};
    line(Table::plates, begin,
         {word_cell(history.instrument.kind), words_cell(plate.wood),
          number_cell(plate.density_kg_m3), words_cell(plate.notes),
          words_cell(history.instrument.notes), count_cell(std::ssize(history.sessions)),
          words_cell(history.wood ? history.wood->wood.label : ""),
          number_cell(history.instrument.body_length_mm)});
    for (const ledger::TargetRecord& target : history.targets)
        line(Table::targets, begin, cells_of(target));
    if (history.form)
        add_shape(begin, *history.form);
    begin.resize(begin.size() + 2);
    for (const ledger::SessionHistory& session : history.sessions) {
        begin[begin.size() - 2] = {base::local_date_time(session.session.begun)};
        begin.back() = count_cell(session.session.id);
        sessions_[session.session.id] = begin;
        add_session(begin, session);
    }
}

void CsvTables::add_shape(const CsvCells& begin, const ledger::FormRecord& form) {
    CsvCells eyes(4), bar(2);
    if (const auto& hole = form.f_holes)
        eyes = {number_cell(hole->upper.x_mm), number_cell(hole->upper.y_mm),
                number_cell(hole->lower.x_mm), number_cell(hole->lower.y_mm)};
    if (form.bar)
        bar = {number_cell(form.bar->width_mm), number_cell(form.bar->height_mm)};
    CsvCells cells = cells_of(form);
    cells.insert(cells.end(), eyes.begin(), eyes.end());
    cells.insert(cells.end(), bar.begin(), bar.end());
    line(Table::shapes, begin, std::move(cells));
    for (const plate::Point p : form.rim)
        line(Table::outlines, begin, cells_of(p));
    for (std::size_t hole = 0; hole < form.f_hole_rims.size(); ++hole)
        for (const plate::Point p : form.f_hole_rims[hole])
            line(Table::f_holes, begin, cells_of(p, {{hole == 0 ? "right" : "left"}}));
    for (const plate::HeightReading& reading : form.heights)
        line(Table::heights, begin, cells_of(reading));
}

void CsvTables::add_session(const CsvCells& begin, const ledger::SessionHistory& one) {
    line(Table::sessions, begin, cells_of(one.session));
    add_sound(begin, one);
    for (const plate::ThicknessReading& reading : one.thickness.readings)
        line(Table::thickness, begin, cells_of(reading));
    for (const ledger::FlexRecord& flexed : one.flex)
        line(Table::flex, begin, cells_of(flexed));
    for (const ledger::WeighingRecord& w : one.weighings)
        for (const trends::WeighedModeShift& shift : trends::weighed_shifts(one, w)) {
            CsvCells cells = cells_of(w, {count_cell(w.id), {base::to_iso(w.begun)}});
            cells.insert(cells.end(), {count_cell(shift.number), number_cell(shift.off_hz),
                                       number_cell(shift.on_hz), number_cell(shift.drift_hz),
                                       number_cell(shift.shift.sd)});
            line(Table::weighings, begin, std::move(cells));
        }
    for (const ledger::PinRecord& pin : one.pins)
        line(Table::pins, begin, cells_of(pin));
    if (one.plan)
        add_plan(begin, *one.plan);
}

void CsvTables::add_sound(const CsvCells& begin, const ledger::SessionHistory& one) {
    for (const ledger::ModeRecord& m : one.modes) {
        CsvCells cells = cells_of(m.mode, {m.name ? count_cell(m.name->number) : CsvCell{},
                                           m.name ? yes_or_no(m.name->by_maker) : CsvCell{}});
        cells.push_back(words_cell(m.analysis_version));
        line(Table::modes_, begin, std::move(cells));
    }
    int count = 0;
    for (const ledger::TapRecord& t : one.taps) {
        const CsvCell tap = count_cell(++count);
        line(Table::taps_, begin,
             {tap,
              {base::to_iso(t.at)},
              word_cell(t.verdict),
              word_cell(t.spot),
              number_cell(t.peak_dbfs),
              number_cell(t.noise_dbfs),
              words_cell(t.recording),
              words_cell(t.analysis_version)});
        for (const modes::Partial& p : t.partials)
            line(Table::partials, begin, cells_of(p, {tap}));
    }
}

void CsvTables::add_plan(const CsvCells& begin, const ledger::PlanRecord& plan) {
    const CsvCell made{base::to_iso(plan.made)};
    line(Table::plans, begin, cells_of(plan, {made}));
    for (const plate::PlanOutcome& m : plan.modes)
        line(Table::plan_modes, begin, cells_of(m, {made}));
    for (const plate::Stroke& stroke : plan.strokes)
        line(Table::plan_strokes, begin, cells_of(stroke, {made}));
}

void CsvTables::add(const ledger::ReferenceRecord& reference) {
    if (const auto session = sessions_.find(reference.session); session != sessions_.end())
        line(Table::references, session->second, {words_cell(reference.label)});
}

void CsvTables::add(const ledger::WoodHistory& history) {
    const ledger::WoodRecord& wood = history.wood;
    const CsvCells begin{words_cell(wood.label), count_cell(wood.id)};
    line(Table::woods, begin,
         {words_cell(wood.species),
          words_cell(wood.origin),
          words_cell(wood.notes),
          {base::to_iso(wood.created)}});
    for (const ledger::WoodTest& test : history.tests) {
        const CsvCell id = count_cell(test.record.id);
        CsvCells cells = begin;
        cells.insert(cells.end(), {id, {base::to_iso(test.record.at)}});
        line(Table::wood_tests, cells, cells_of(test.record));
        for (const ledger::WoodModeRecord& m : test.modes)
            line(Table::wood_modes, begin, cells_of(m, {id}));
    }
}

std::vector<CsvTable> CsvTables::finish() && { return std::move(tables_); }

} // namespace platewright::report
