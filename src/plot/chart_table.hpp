#pragma once
#include "plot/chart.hpp"

#include <string>

namespace platewright::plot {

/// What a chart shows as a table that a spreadsheet takes: fields parted by tabs, a row a point,
/// with the maker's decimal mark; first a row with what the columns are. Curves, marks and
/// signposts, all of them and not only what is seen. In data units, 7 significant digits.
std::string chart_table(const Chart& chart);

} // namespace platewright::plot
