#pragma once
#include "screen/drafts.hpp"
#include "screen/session_list.hpp"
#include "screen/sight.hpp"
#include "screen/table.hpp"

#include <string>
#include <variant>

namespace platewright::screen {

/// All that the ledger holds: instruments, their plates, and the sessions of the plate on the
/// bench; here they are entered and corrected.
class PlatesView {
public:
    void draw(const Sight& sight, plot::Box area);

private:
    void keys(const Sight& sight);
    void go_on(const Sight& sight);
    void list(const Sight& sight, const plot::Box& box);
    void begin_plate(ledger::Id instrument);
    /// The instrument whose row was pressed, while it has no plate; else null.
    const ledger::InstrumentSummary* instrument_shown(const Sight& sight) const;
    void bare_instrument(const Sight& sight, const ledger::InstrumentRecord& instrument);
    void back_to_list(const Sight& sight);
    void form(const Sight& sight);
    void page(const Sight& sight);
    void open_plate(const Sight& sight);
    static void correct(const Sight& sight, const SessionDraft& draft);
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
