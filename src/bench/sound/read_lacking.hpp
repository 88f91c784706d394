#pragma once
#include "ledger/store.hpp"
#include "modes/estimate/fit.hpp"

#include <functional>

namespace platewright::bench {

/// Reads the recordings of taps that have no reading, as those that were brought back
/// (Store::rescue), and finds their sessions' modes; gives how many taps were read. What the maker
/// named keeps its name. `progress` gets the share of the plates done, and stops it by returning
/// false. Fails: base::Failure. Cost: some 30 ms a tap of each plate that has such sessions.
/// Threads: one owner of the store.
int read_lacking(ledger::Store& store, const modes::FitParams& fit,
                 const std::function<bool(double)>& progress = {});

} // namespace platewright::bench
