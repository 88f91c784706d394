#pragma once
#include "trends/wood/wood_figures.hpp"

#include <optional>
#include <string>
#include <vector>

namespace platewright::bench {

/// A wood with the figures that its tests tell; nothing while they are not computed.
struct StockedWood {
    ledger::WoodHistory history;
    std::optional<trends::WoodFigures> figures;
};

/// The wood in stock, by its label, and what is being computed of it. Immutable once published.
struct StockView {
    std::vector<StockedWood> woods;
    std::optional<double> moisture_pct; ///< that the figures are to hold for; nothing: as each was
    std::string doing;                  ///< a sentence while it computes; empty at rest
    double share = 0.0;                 ///< done of that, 0..1
};

} // namespace platewright::bench
