#pragma once
#include "report/sheet.hpp"

#include <utility>

namespace platewright::report {

/// Parts of sheets, shared by the plate's and the instrument's.

using Facts = std::vector<std::pair<std::string, std::string>>;

/// Wood, shape, and where the work stands.
Facts facts_of(const ledger::PlateHistory& history);
/// What its thickness map shows at a glance.
Facts facts_of(const PlateSheet& sheet, const trends::MapReview& map);

/// The newest session's modes with their drift, forecast and reference.
FlowTable mode_table(const PlateSheet& sheet);
/// Every session with its air, its modes 1, 2 and 5, and its notes.
FlowTable session_table(const PlateSheet& sheet);

void draw_drift(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas);
void draw_map(const PlateSheet& sheet, const plot::Box& box, plot::Canvas& canvas);

/// "Bench sheet, printed 2026-03-14".
std::string printed_line(std::string_view what, base::Timestamp printed);
/// For the foot of every page.
extern const char* const k_running;

} // namespace platewright::report
