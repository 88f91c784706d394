#pragma once
#include "plot/chart.hpp"

#include <functional>
#include <string>

namespace platewright::screen {

/// Keeps a chart in files and gives a sentence on what became of it. The name is without an ending.
using KeepPicture = std::function<std::string(const plot::Chart&, const std::string& name)>;

/// Opens the invented demo workshop beside the maker's own ledger, and gives a sentence on where.
using OpenDemo = std::function<std::string()>;

} // namespace platewright::screen
