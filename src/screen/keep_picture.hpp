#pragma once
#include "plot/chart.hpp"

#include <functional>
#include <string>

namespace platewright::screen {

/// Keeps a chart in files and gives a sentence on what became of it. The name is without an ending.
using KeepPicture = std::function<std::string(const plot::Chart&, const std::string& name)>;

} // namespace platewright::screen
