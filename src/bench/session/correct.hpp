#pragma once
#include "base/failure.hpp"
#include "bench/command.hpp"
#include "ledger/store.hpp"

#include <vector>

namespace platewright::bench {

/// What follows from a correction: names rest on the sessions before and on what is said of a
/// plate, modes on the taps that count and on where they were struck. Workbench::heal() does it.
struct Corrected {
    std::vector<ledger::Id> plates; ///< whose sessions are to be named anew
    ledger::Id session = 0;         ///< of the first, whose modes are to be found anew; 0: none's
    /// Sessions whose taps are to be read anew: their plate is looked at in another band now.
    std::vector<ledger::Id> other_band = {};
};

/// A correction that can't be, as the sentence says; nothing was changed.
struct CannotBe : base::Failure {
    using base::Failure::Failure;
};

/// What was entered in the wrong place, put right (Store's corrections). Each throws CannotBe with
/// the store's sentence where it can't be, and base::Failure where the ledger fails.
Corrected correct(ledger::Store& store, const command::MoveSession& c);
Corrected correct(ledger::Store& store, const command::MovePlate& c);
Corrected correct(ledger::Store& store, const command::SetBegun& c);
Corrected correct(ledger::Store& store, const command::SetSpot& c);
Corrected correct(ledger::Store& store, const command::TakeOutReadings& c);
Corrected correct(ledger::Store& store, const command::Bin& c);
Corrected correct(ledger::Store& store, const command::Unbin& c);
/// Of sessions, plates and instruments that are there already; all of it at once, or nothing.
Corrected correct(ledger::Store& store, const ledger::SessionRecord& session);
Corrected correct(ledger::Store& store, const ledger::PlateRecord& plate);
Corrected correct(ledger::Store& store, const ledger::InstrumentRecord& instrument);

} // namespace platewright::bench
