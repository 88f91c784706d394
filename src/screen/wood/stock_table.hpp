#pragma once
#include "bench/wood/stock_view.hpp"
#include "screen/fields/table.hpp"
#include "screen/view_context.hpp"

#include <map>
#include <optional>

namespace platewright::screen {

/// The wood of this id, or null.
const bench::StockedWood* find_stocked(const bench::StockView& stock, ledger::Id wood);

/// Distances from the good wood (trends::Likeness), by the wood's id; empty where none is set.
using Distances = std::map<ledger::Id, double>;
Distances distances_from(const bench::StockView& stock, ledger::Id good);

/// The stock as a table in the flow of a page, a wood a row, each figure with its 95 %; gives the
/// wood that was pressed.
std::optional<ledger::Id> draw_stock(const ViewContext& context, ledger::Id chosen,
                                     const Distances& distances, Sorting& sorting);

} // namespace platewright::screen
