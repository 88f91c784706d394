#pragma once
#include "ledger/record.hpp"
#include "modes/signal/spectrum.hpp"
#include "taps/tap.hpp"

#include <span>

namespace platewright::bench {

/// A kept tap beside what its partials make of it: spectra of the ring as heard, of the partials
/// alone, and of what they leave over, all from where the fit begins (the hammer has left the
/// wood).
struct TapStudy {
    ledger::Id tap = 0;
    ledger::Id session = 0;
    modes::Spectrum heard, fitted, left;
    double left_db = 0; ///< energy left over against the ring's; 0 where the fit is worth nothing
};

/// Σ a·e^(−π f t/Q)·cos(2π f t + φ), t from the strike, as modes::Partial has it.
/// Cost: partials times samples, some 10 ms. Pure.
TapStudy study_of(const taps::Tap& tap, std::span<const modes::Partial> partials,
                  double highest_hz);

} // namespace platewright::bench
