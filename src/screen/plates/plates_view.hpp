#pragma once
#include "screen/fields/drafts.hpp"
#include "screen/fields/table.hpp"
#include "screen/plates/session_list.hpp"
#include "screen/view_context.hpp"

#include <string>
#include <variant>

namespace platewright::screen {

/// All that the ledger holds: instruments, their plates, and the sessions of the plate on the
/// bench; here they are entered and corrected.
class PlatesView {
public:
    void draw(const ViewContext& context, plot::Box area);

private:
    void keys(const ViewContext& context);
    void go_on(const ViewContext& context);
    void list(const ViewContext& context, const plot::Box& box);
    void begin_plate(ledger::Id instrument);
    /// The instrument whose row was pressed, while it has no plate; else null.
    const ledger::InstrumentSummary* instrument_shown(const ViewContext& context) const;
    void bare_instrument(const ViewContext& context, const ledger::InstrumentRecord& instrument);
    void back_to_list(const ViewContext& context);
    void form(const ViewContext& context);
    void page(const ViewContext& context);
    void open_plate(const ViewContext& context);
    static void correct(const ViewContext& context, const SessionDraft& draft);
    template <class Draft>
    void begin(Draft draft);

    std::variant<std::monostate, InstrumentDraft, PlateDraft, SessionDraft> draft_;
    Complaint complaint_;
    bool fresh_ = false;
    bool to_top_ = false; // a form has just been opened: it is read from its head
    bool chosen_ = false; // where parts are stacked: the chosen plate's page is shown, not the list
    std::string search_;
    Sorting sorting_;
    ledger::Id instrument_shown_ = 0;      // without a plate; 0: the plate on the bench is
    std::optional<ledger::Id> newer_than_; // a new instrument is awaited, with an id above this
    SessionList sessions_;
    PutAway away_;
};

} // namespace platewright::screen
