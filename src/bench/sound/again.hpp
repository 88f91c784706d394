#pragma once
#include "ledger/store.hpp"
#include "modes/estimate/fit.hpp"
#include "trends/drift/comparison.hpp"

#include <functional>
#include <vector>

namespace platewright::bench {

/// A session analysed anew from its kept recordings, beside what the ledger has of it.
struct SessionAgain {
    ledger::SessionHistory before; ///< as it is kept
    ledger::SessionHistory after;  ///< the same taps, with the partials and modes found now
    trends::Comparison difference; ///< after (as the plate) set against before (as the reference)
    int lost = 0; ///< accepted taps whose recording is missing or damaged: their old partials count
    int not_rung =
        0; ///< accepted taps in which the analysis of now finds no ring; left out of the modes
};

/// Analyses all of a plate's sessions anew, oldest first, names resting on the sessions before as
/// they come out now. Nothing is kept by this. `progress` gets the share done, and stops it by
/// returning false; what was done by then is returned. Cost: some 30 ms a tap. Threads: one owner
/// of the store.
std::vector<SessionAgain> analyse_again(const ledger::Store& store,
                                        const ledger::PlateHistory& history,
                                        const modes::FitParams& fit,
                                        const std::function<bool(double)>& progress = {});

/// Keeps what was found anew beside what earlier analyses found: a reading for each tap that has
/// none of this version, and the session's modes. Fails: base::Failure; sessions kept before it
/// stay.
void keep_again(ledger::Store& store, const std::vector<SessionAgain>& sessions);
/// The same in place of what this analysis found in another band.
void keep_in_other_band(ledger::Store& store, const std::vector<SessionAgain>& sessions);

/// A test of wood analysed anew from its kept recordings.
struct WoodTestAgain {
    ledger::WoodTest before;                   ///< as it is kept
    std::vector<ledger::WoodModeRecord> after; ///< of its motions, those found in the taps now
    std::vector<ledger::WoodMotion>
        gone; ///< tapped before, and not found now: what was found earlier counts
    std::vector<std::string> doubts; ///< sentences on motions that are still not known
    int lost = 0;                    ///< accepted taps whose recording is missing or damaged
    int not_rung = 0;                ///< accepted taps in which no ring is found now
};

/// Analyses the tests of a wood that have recordings anew. Which motion a mode is, is taken from
/// what is kept (the mode within 2 % bears it), and looked for only where nothing is; what was
/// typed stays typed unless it is found now. The band is widened to hold what is kept. `progress`
/// as above. Cost: some 30 ms a tap. Threads: one owner of the store.
std::vector<WoodTestAgain> analyse_again(const ledger::Store& store,
                                         const ledger::WoodHistory& history,
                                         const modes::FitParams& fit,
                                         const std::function<bool(double)>& progress = {});

/// Keeps what was found anew; it counts from here on, what earlier analyses found stays in the
/// database. What is kept already is not kept twice. Fails: base::Failure; tests kept before it
/// stay.
void keep_again(ledger::Store& store, const std::vector<WoodTestAgain>& tests);

} // namespace platewright::bench
