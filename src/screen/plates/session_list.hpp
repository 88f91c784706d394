#pragma once
#include "screen/fields/drafts.hpp"
#include "screen/view_context.hpp"

#include <optional>
#include <string>

namespace platewright::screen {

/// What went into the ledger's bin last, so that it can be put back.
class PutAway {
public:
    void put(const ViewContext& context, const std::string& table, ledger::Id id,
             const std::string& name);
    /// A button that puts it back, and the key R, in the flow of a page; nothing while nothing was
    /// put away.
    void draw_back(const ViewContext& context);

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
    std::optional<SessionDraft> draw(const ViewContext& context, PutAway& away);

private:
    std::optional<SessionDraft> buttons(const ViewContext& context,
                                        const ledger::SessionRecord& session,
                                        const std::string& name, PutAway& away);
    ledger::Id opened_ = 0; // whose buttons are shown
};

} // namespace platewright::screen
