#pragma once
#include "bench/wood/stock_view.hpp"
#include "screen/fields/table.hpp"
#include "screen/view_context.hpp"

#include <map>

namespace platewright::screen {

/// Distances from the good wood (trends::Likeness), by the wood's id; empty where none is set.
using Distances = std::map<ledger::Id, double>;
Distances distances_from(const bench::StockView& stock, ledger::Id good);

/// The stock as a table in the flow of a page, a wood a row, each figure with its 95 %; gives the
/// wood that was pressed.
std::optional<ledger::Id> stock_table(const ViewContext& context, ledger::Id chosen,
                                      const Distances& distances, Sorting& sorting);

/// The figures of one wood by direction of the grain.
void figures_table(const ViewContext& context, const trends::WoodFigures& figures);

/// A low row of the flow: what, and its value.
void fact_row(const ViewContext& context, std::string_view what, std::string_view value);

/// "12.10 ± 0.45", with 95 %; a dash where nothing is known.
std::string with_doubt(const std::optional<trends::Figure>& figure_of, int decimals);

} // namespace platewright::screen
