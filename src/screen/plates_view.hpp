#pragma once
#include "screen/drafts.hpp"
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
    void list(const Sight& sight, const plot::Box& box);
    void instrument_rows(const Sight& sight, const ledger::InstrumentSummary& instrument);
    void form(const Sight& sight);
    void open_plate(const Sight& sight);
    void sessions(const Sight& sight);
    void session_buttons(const Sight& sight, const ledger::SessionRecord& session,
                         const std::string& name);
    void bin(const Sight& sight, const std::string& table, ledger::Id id, const std::string& name);
    template <class Draft>
    void begin(Draft draft);

    std::variant<std::monostate, InstrumentDraft, PlateDraft, SessionDraft> draft_;
    std::string complaint_;
    bool fresh_ = false;
    std::string search_;
    ledger::Id shown_session_ = 0; // whose buttons are open

    // What went into the bin last, to be put back.
    struct Binned {
        std::string table;
        ledger::Id id = 0;
        std::string name;
    };
    std::optional<Binned> binned_;
};

} // namespace platewright::screen
