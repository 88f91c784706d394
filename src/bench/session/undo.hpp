#pragma once
#include "bench/command.hpp"
#include "ledger/store.hpp"

#include <optional>
#include <string>

namespace platewright::bench {

/// What takes a command back.
struct Undo {
    std::string what; ///< what was done, for people: "session corrected"
    Command back;
    /// What lay on the bench: some commands act on that, and another plate may lie there when it is
    /// undone.
    ledger::Id plate = 0, session = 0;
};

/// Whether a command acts on whatever plate or session is open.
bool acts_on_the_open_one(const Command& command);

/// What will take this command back, asked before it is executed. Nothing where it changes nothing
/// that is kept, or where another way back stands beside it (taps: command::RedoTap; a copy put
/// back: the replaced one). What makes something new is taken back by putting that away: its id is
/// not known yet and stands as 0. `history` is the open plate's, null where none is open; `session`
/// the open one.
std::optional<Undo> undo_of(const Command& command, const ledger::Store& store,
                            const ledger::PlateHistory* history, ledger::Id session);

} // namespace platewright::bench
