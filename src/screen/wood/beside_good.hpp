#pragma once
#include "bench/wood/stock_view.hpp"
#include "screen/view_context.hpp"

#include <string>

namespace platewright::screen {

/// A wood beside the one that made the good instrument: how far apart they are, in what, and how
/// thick a plate of it is to be.
class BesideGood {
public:
    /// In the flow of a page; `good_id`: the good one's id, 0 where none is set.
    void draw(const ViewContext& context, const bench::StockedWood& wood, ledger::Id good_id);

private:
    void thickness(const ViewContext& context, const bench::StockedWood& wood,
                   const bench::StockedWood& good);

    std::string good_mm_; // typed
};

} // namespace platewright::screen
