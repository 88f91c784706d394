#pragma once
#include "modes/damped_model.hpp"
#include "modes/partial.hpp"

#include <vector>

namespace platewright::modes {

/// Whether what was fitted is the ring of a struck thing, or something else that died away: a voice, a thump.
/// docs/detection-results.md has how many simulated strikes and disturbances pass.
class RingTest {
public:
    /// One component that was taken for a mode, and what it is as a partial.
    void add_mode(const Component& mode, const Partial& partial);
    /// A channel with quiet before its ring: what it holds over the room once `others` (steady lines, what another
    /// channel tells) are taken out, and what is left when the modes are taken out as well. Both are of `fit`.
    void add_channel(const Stretches& data, double rate_hz, const DampedFit& fit, const std::vector<Component>& others,
                     const std::vector<Component>& modes);
    bool passed() const;

private:
    struct Mode {
        double frequency_hz = 0;
        double energy = 0; // of whitened samples, whose room has 1 each
    };
    bool harmonic() const;
    double doubt() const;
    std::vector<Mode> modes_;
    double ring_ = 0, untold_ = 0;              // energies over the room
    double swell_db_ = 0;                       // summed over the channels, times the ring's energy
    double all_ = 0, with_q_ = 0, unsure_ = 0;  // sums over the modes: energy; times Q; times Q's relative deviation
};

} // namespace platewright::modes
