#pragma once
#include "screen/view_context.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::screen {

/// What stands in a row under a head: words or a figure, and the figure's interval, which is
/// written smaller and fainter.
struct Cell {
    std::string words;
    std::optional<double> value = {}; ///< what it is sorted by; else its words are
    std::string doubt = {};
};

struct TableHead {
    std::string words, unit = {};
};

struct TableRow {
    ledger::Id id = 0;
    bool chosen = false;
    std::vector<Cell> cells; ///< one a head
};

/// By which head a table is sorted; nothing: in the order given.
struct Sorting {
    std::optional<std::size_t> by;
    bool falls = false; ///< the greatest first
};

/// A table in the flow of a page: a row is a line, each column as wide as what stands in it, the
/// first takes what is left and its words alone may end in …. Where the columns have no room beside
/// each other, they stand in further lines below the first. A press on a head sorts by it, again
/// the other way round, a third time as given. Gives the id of the row that was pressed.
std::optional<ledger::Id> table(const ViewContext& context, const char* id,
                                std::span<const TableHead> heads, std::span<const TableRow> rows,
                                Sorting& sorting);

/// The order of the rows by a head, as indices: figures by value, then rows without one; words
/// without regard to capitals. Rows that are equal stay as given. Pure.
std::vector<std::size_t> sorted(std::span<const TableRow> rows, const Sorting& sorting);

} // namespace platewright::screen
