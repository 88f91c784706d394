#pragma once
#include "ledger/bundle/bundle.hpp"
#include "ledger/store.hpp"

#include <string>
#include <vector>

namespace platewright::cli {

/// A plate's Universal File: of each session with recordings the mean spectrum of its accepted taps
/// (dataset 58, amplitude relative to full scale, from 0 to 2500 Hz in steps of 0.5 Hz), and where
/// the plate has a thickness map and its model can be fitted, the model's mesh (15, 2412) and modes
/// (55).
struct UffText {
    std::string name; ///< "Wren back.uff"
    std::string text;
    int spectra = 0, shapes = 0;
    std::string no_shapes; ///< why there are none, in a sentence; empty where there are
};

/// Of every plate of the ledger. A recording that is missing or damaged is passed over.
/// Cost: some 10 ms a tap, and 0.2 s a session with a map.
std::vector<UffText> uff_texts(const ledger::Store& store, const ledger::Progress& progress);

} // namespace platewright::cli
