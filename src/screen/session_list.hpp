#pragma once
#include "screen/drafts.hpp"
#include "screen/sight.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

/// What went into the ledger's bin last, so that it can be put back.
class PutAway {
public:
    void put(const Sight& sight, const std::string& table, ledger::Id id, const std::string& name);
    /// A button that puts it back, and the key R, in the flow of a page; nothing while nothing was
    /// put away.
    void draw_back(const Sight& sight);

private:
    struct Thing {
        std::string table;
        ledger::Id id = 0;
        std::string name;
    };
    std::optional<Thing> last_;
};

/// The sessions of the plate on the bench, newest first, in the flow of a page; a press on one
/// opens what can be done with it.
class SessionList {
public:
    /// Gives a draft when the maker asks to correct a session.
    std::optional<SessionDraft> draw(const Sight& sight, PutAway& away);

private:
    std::optional<SessionDraft> buttons(const Sight& sight, const ledger::SessionRecord& session,
                                        const std::string& name, PutAway& away);
    ledger::Id opened_ = 0; // whose buttons are shown
};

} // namespace platewright::screen
