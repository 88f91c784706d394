#include "bench/session/fresh_session.hpp"

#include "wording/say.hpp"

#include <algorithm>

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

std::optional<std::string> date_in_doubt(std::span<const ledger::InstrumentSummary> instruments,
                                         base::Timestamp now) {
    constexpr std::int64_t k_half_a_day_ms = 12LL * 3600 * 1000;
    base::Timestamp newest;
    for (const ledger::InstrumentSummary& instrument : instruments)
        for (const ledger::PlateSummary& plate : instrument.plates)
            if (plate.newest)
                newest = std::max(newest, plate.newest->begun);
    if (newest.ms_since_epoch <= now.ms_since_epoch + k_half_a_day_ms)
        return std::nullopt;
    return wording::say("The newest session in this ledger is of {}, which is still to come. Check "
                        "this computer's date "
                        "before you tap: sessions are put in order by it.",
                        base::local_date(newest));
}

} // namespace platewright::bench
