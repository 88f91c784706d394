#pragma once
#include "report/page/page.hpp"
#include "report/sheet/markup.hpp"

namespace platewright::report {

/// Parts of the page, each as markup in the language of now.

/// The drift with a place to point at for each mode in each session, which leads to the session's
/// card. Empty where there is nothing to draw.
std::string drift_figure(const PlateSheet& sheet, std::string_view name);
/// The thickness map with its readings to point at. Empty without one.
std::string map_figure(const PlateSheet& sheet, std::string_view name);
/// A table as the sheets have it.
void put_table(Markup& markup, const FlowTable& table);

/// Where a session's card stands on the page.
std::string session_anchor(ledger::Id session);

} // namespace platewright::report
