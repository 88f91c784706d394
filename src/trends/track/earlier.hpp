#pragma once
#include "ledger/record.hpp"
#include "modes/name/name.hpp"

#include <vector>

namespace platewright::trends {

/// A plate's earlier sessions for the naming of one session after another: each is kept once, and
/// set to the air of the session that is named when it is asked for.
class EarlierSessions {
public:
    /// A session that is over: its modes, with their names.
    void add(const ledger::SessionHistory& session);

    /// Those added so far, oldest first, in the air of `now` where both airs are known: masses with
    /// the water of now, and what the air alone does to ln f (the middle of k_any_response). Until
    /// the next call. Cost: linear in the sessions, copies no mode.
    std::span<const modes::Earlier> seen_from(const ledger::SessionRecord& now);

private:
    std::vector<ledger::SessionRecord> records_;
    std::vector<modes::Earlier> earlier_;
};

} // namespace platewright::trends
