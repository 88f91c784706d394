#pragma once
#include "bench/wood/stock_view.hpp"
#include "screen/fields/table.hpp"
#include "screen/plates/session_list.hpp"
#include "screen/view_context.hpp"
#include "screen/wood/beside_good.hpp"
#include "screen/wood/wood_form.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

/// The wood in stock: what each piece's measures and taps tell, with its uncertainty; which comes
/// nearest to the one that made the good instrument, and how thick a plate of it is to be. What is
/// computed is asked of the bench and comes with the snapshot.
class WoodView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void keep_asked(const ViewContext& context);
    void keep_form(const ViewContext& context, const plot::Box& area);
    void begin(const ledger::WoodRecord& wood, bool whole);
    void table(const ViewContext& context, const plot::Box& box);
    void pages(const ViewContext& context, plot::Box area);
    void chosen_page(const ViewContext& context, const bench::StockedWood& wood);
    void buttons(const ViewContext& context, const bench::StockedWood& wood);

    bool asked_ = false;
    ledger::Id chosen_ = 0; // looked at
    ledger::Id good_ = 0;   // the others are set beside it
    std::optional<WoodDraft> draft_;
    bool whole_ = true; // the draft has a piece
    bool fresh_ = false;
    bool look_down_ = false; // a piece was chosen: its page is scrolled to, where it stands below
    Complaint wrong_;        // of the draft
    Complaint complaint_;    // of the moisture
    std::string moisture_;
    BesideGood beside_good_;
    Sorting sorting_;
    PutAway away_;
};

} // namespace platewright::screen
