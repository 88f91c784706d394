#pragma once
#include "report/sheet/sheet.hpp"
#include "wording/facts.hpp"
#include "wording/say.hpp"

#include <initializer_list>
#include <utility>

namespace platewright::report {

/// Parts of sheets, shared by the plate's, the instrument's and the wood's; in the language of now.

using wording::Facts;

inline constexpr const char* k_none = "–";
std::string or_dash(const std::optional<double>& value, int decimals);

/// A column whose head is of the catalogue.
struct Column {
    wording::Phrase head;
    double share = 1.0;
    bool figures = false;
};
void add(FlowTable& table, std::initializer_list<Column> columns);
FlowTable table_of(std::initializer_list<Column> columns);

/// Wood, shape, and where the work stands.
Facts facts_of(const ledger::PlateHistory& history);
/// What its thickness map shows at a glance, and how its places are told.
Facts map_facts(const PlateSheet& sheet);

/// The newest session's modes with their drift, forecast and reference. Of a closed body without
/// forecast: its modes don't go by its mass.
FlowTable mode_table(const PlateSheet& sheet);
/// Every session with its air, its named modes (1, 2 and 5; of a body A0, B1−, B1+ and the CBR
/// where it was ever found), and its notes.
FlowTable session_table(const PlateSheet& sheet);

/// "4, 2026-03-09 to 2026-03-27": so many things and their days.
std::string days_text(std::size_t count, base::Timestamp first, base::Timestamp last);
void notes_part(Flow& flow, const std::string& notes);
/// The plate, its days and their air: over a chart that is to stand by itself.
std::string title_of(const ledger::PlateHistory& history);
/// The drift with that over it.
plot::Chart drift_chart_of(const PlateSheet& sheet);
void draw_drift(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas);
void draw_map(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas);

/// "Bench sheet, printed 2026-03-14".
std::string printed_line(std::string_view what, base::Timestamp printed);
/// For the foot of every page: what can't be undone, and what harms.
std::string running_line();

} // namespace platewright::report
