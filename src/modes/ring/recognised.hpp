#pragma once
#include "modes/partial.hpp"
#include "modes/ring/ring_evidence.hpp"

#include <span>
#include <vector>

namespace platewright::modes {

/// Natural logarithm of how much likelier a tap's strong partials are where it is the plate of the
/// other taps that rang than where it is anything else that sounds at a bench. Each partial lies at
/// one of the others' frequencies, by both deviations and the hold, or is one that none of them
/// showed; of anything else it lies anywhere in the band, evenly in its logarithm.
double likeness(std::span<const std::span<const Partial>> others, std::span<const Partial> tap);

/// Whether a tap that may be a ring is one, by its own evidence and its likeness to the others
/// together. Never with fewer than two others, nor fewer than a fifth of the `in_question`, all
/// that count or may be rings: a bench top that once was taken for a plate would call all its
/// knocks plates. Figures: docs/detection-results.md, speed_ring_sessions.
bool is_recognised(const RingEvidence& evidence, std::span<const Partial> tap,
                   std::span<const std::span<const Partial>> others, std::size_t in_question);

/// A tap that counts, or whose ring is in doubt.
struct JudgedRing {
    RingEvidence evidence; ///< of one that was only read from a ledger none
    std::span<const Partial> partials;
    bool counts = false;
};

/// Counts the doubtful ones of a session that its taps together tell; gives which. That are those
/// that ring like two others or more, and like one in seven of all in question, none of which needs
/// to ring clearly: where a room answers as loud as the plate none does by itself, yet what else
/// sounds in a workshop does not sound three times alike. (A bench that is struck again and again
/// does.) And those that is_recognised by what counts then.
/// Cost: quadratic in the taps in question; 0.2 ms for seven.
std::vector<std::size_t> recognise(std::span<JudgedRing> taps);

} // namespace platewright::modes
