#pragma once
#include <cstddef>
#include <span>

namespace platewright::taps {

struct InStep {
    double kept = 0;     ///< energy eight cycles later over energy now; 0 to about 1
    double foreseen = 0; ///< share of that later energy which what sounds now foretells; 1: all of it
    double dies_db_per_s = 0; ///< how fast the ring's power falls at first; a sum of decays never falls faster later
};

/// Whether a strike's sound stays in step with itself, as a ring does.
/// Octave by octave, x[n] is foreseen from x[n−L−j], j = 0…p−1, by least squares, L eight cycles of the octave's
/// centre; energies are summed over the octaves, each less the room's. A mode of quality Q keeps e^(−16π/Q) of its
/// energy: 0.19 for Q 30, 0.60 for Q 100, 0.004 for a dull thing of Q 9. Noise that dies away, as a knock's echo
/// does in a room or a scraper's stroke, may keep as much but is not foreseen; a voice neither dies nor stays in step.
/// In:   in_band: a strike with its pre-roll, the strike at onset_index; the octaves between low_hz and high_hz count.
/// Cost: half a millisecond for a second at 48 kHz. Pure; worker.
InStep in_step(std::span<const float> in_band, std::size_t onset_index, double sample_rate_hz, double low_hz,
               double high_hz);

} // namespace platewright::taps
