#include "bench/session/fresh_session.hpp"

namespace platewright::bench {

ledger::SessionRecord fresh_session(const ledger::PlateHistory& history) {
    ledger::SessionRecord session;
    session.plate = history.plate.id;
    if (!history.sessions.empty())
        session.stage = history.sessions.back().session.stage;
    else if (history.plate.part == modes::Part::body)
        session.stage = modes::Stage::closed;
    return session;
}

} // namespace platewright::bench
