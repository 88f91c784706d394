#pragma once
#include "modes/pool/pool.hpp"
#include "modes/ring/input_faults.hpp"
#include "taps/tap.hpp"

#include <span>

namespace platewright::modes {

/// Share of a tap's energy, in its first 0.4 s, that is told by letting the plate's strong modes
/// start anew at one later moment, 8 ms after the strike or later: a generalised likelihood ratio
/// over that moment. `of_plate`: the modes as other taps of the session tell them, so that no pole
/// is there for the second contact's sake; each may differ from them a little, by the hold, which
/// is a linear change of its decaying sinusoid. What the room's noise would tell as well is taken
/// off, and in the first hundredths of a second it has to be a good part of what the plate's modes
/// leave untold. 0 where the tap is too short.
/// Cost: a tenth of a second. Threads: pure; worker.
double told_by_second_contact(const taps::Tap& tap, std::span<const Mode> of_plate,
                              const FitParams& params);

/// Whether a tap leaves as much untold as few single strikes do, or answers as a room would: then
/// it is worth asking whether it was struck again.
bool leaves_much_untold(const InputEvidence& input);

/// Whether the hammer came down twice, too softly for the detector to hear it (knuckle, felt,
/// cork): much is left untold, and a second start tells of that. Asked of an accepted tap; never
/// with fewer than two others, nor where those were heard in a room that answers, for every echo is
/// a second start. What the tap alone shows, far from all that the others have, is a mode they did
/// not hear at their spots.
bool was_struck_again(const FittedTap& tap, const InputEvidence& input,
                      std::span<const FittedTap> others, const FitParams& params);

} // namespace platewright::modes
