#pragma once
#include "modes/estimate/damped_model.hpp"
#include "modes/partial.hpp"
#include "modes/ring/reverberation.hpp"
#include "taps/tap.hpp"

#include <span>
#include <vector>

namespace platewright::modes {

/// What one tap tells about the input it came through.
struct InputEvidence {
    double floor_db = 0; ///< the quietest 80 ms of what modes and lines leave untold after the
                         ///< strike, over the quietest of the room before it. An input that keeps
                         ///< its gain: 0; model errors lift it; an automatic gain that the strike
                         ///< pressed down, or a gate that closed behind it, is all that lowers it
    double bend = 0;     ///< correlation of what the strong partials leave untold with the cube of
                         ///< their sum, both cleared of the strong partials themselves: 0 where the
                         ///< input is straight, toward -1 where it presses loud sound flat
    double untold = 0;   ///< share of the sound's energy that neither modes nor lines tell
    Reverberation room;  ///< as far as the tap tells
};

/// What the taps of one input have in common.
struct InputFaults {
    bool operator==(const InputFaults&) const = default;
    bool moves_gain = false; ///< automatic gain, a gate, noise suppression
    bool bends = false;      ///< a stage before the converter is overdriven
    Reverberation room; ///< medians; none where it costs a frequency little, or a fault hides it
};

/// Whether one tap alone looks like an input's fault: what it leaves untold may be that.
bool shows_fault(const InputEvidence& tap);

/// By what a third of the taps show, two at least, of three or more; a room by more than half of
/// them. Nothing is said of fewer.
InputFaults input_faults(std::span<const InputEvidence> taps);

/// `left`: the ring's samples less `fit`, which is one of `data`.
double floor_change_db(const Stretches& data, std::span<const double> left, double rate_hz,
                       const DampedFit& fit);

/// Over the first 0.15 s from `skip_s` after the strike; 0 where nothing rings, or what follows the
/// cube is less than Q would show. `thumps`: what dies too soon to be a mode; untold, it follows
/// the cube of low modes as a bend does. Cost: below 1 ms.
double bend_of(const taps::Tap& tap, std::span<const Partial> partials,
               std::span<const Partial> thumps, double skip_s);

/// Marks what suffers. A gain may have moved as far while a mode rang, and what is loudest was
/// pressed flat: that widens Q, and as much of a mode's half width its frequency. Of a bent tap
/// only strong partials stay in the list, for the products of bending (3 f, 2 f ± g) pass for modes
/// of their own.
void doubt_through(const InputEvidence& input, std::vector<Partial>& partials);

} // namespace platewright::modes
