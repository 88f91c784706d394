#pragma once
#include "ledger/record.hpp"
#include "modes/name/name.hpp"
#include "trends/air/moisture.hpp"

#include <optional>
#include <vector>

namespace platewright::trends {

/// A session set over to another air.
struct SetOver {
    double moisture_pct = 0; ///< change of the plate's moisture, from that day to the air asked for
    std::optional<double> mass_g;    ///< as weighed, set over
    std::optional<double> mass_sd_g; ///< of the setting over alone
};

/// A history as it would read had every session been held in one air. The history handed in stays
/// as measured; what was set over is said session by session.
struct HistoryInAir {
    ledger::PlateHistory history;
    std::vector<std::optional<SetOver>>
        sessions; ///< nothing: its air is not known, it is as measured
};

/// Mass by the water alone: m (1 + M'/100) / (1 + M/100). Frequencies by the middle of the range
/// that the Wood Handbook's slopes give a mode of its kind (moisture.hpp); half the range's width
/// over root 3 goes into frequency_sd_hz and spread_hz. A plate need not have settled: 30 % of each
/// shift is its deviation besides (common practice, no source). Threads: pure.
HistoryInAir in_air(const ledger::PlateHistory& history, const Air& air);

/// A frequency of a mode of this number as it would be in another air, by the middle of its range.
double hz_in_air(double hz, std::optional<int> number, const Air& then, const Air& air);

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
