#pragma once
#include "screen/drafts.hpp"
#include "screen/session_list.hpp"
#include "screen/sight.hpp"

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
    void instrument_rows(const Sight& sight, const ledger::InstrumentSummary& instrument);
    void form(const Sight& sight);
    void page(const Sight& sight);
    void open_plate(const Sight& sight);
    static void correct(const Sight& sight, const SessionDraft& draft);
    template <class Draft>
    void begin(Draft draft);

    std::variant<std::monostate, InstrumentDraft, PlateDraft, SessionDraft> draft_;
    std::string complaint_;
    bool fresh_ = false;
    bool to_top_ = false; // a form has just been opened: it is read from its head
    bool chosen_ = false; // where parts are stacked: the chosen plate's page is shown, not the list
    std::string search_;
    std::optional<ledger::Id> newer_than_; // a new instrument is awaited, with an id above this
    SessionList sessions_;
    PutAway away_;
};

} // namespace platewright::screen
