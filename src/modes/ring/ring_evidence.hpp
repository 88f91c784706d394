#pragma once

namespace platewright::modes {

/// What a channel's fit says about the question: is this the ring of something struck once, or
/// something else that sounded, a voice, a thump, a scrape? All energies are of whitened samples,
/// whose room has 1 each.
struct RingEvidence {
    double energy = 0; ///< of the ring over the room
    double untold = 0; ///< share of it that the fit leaves untold
    double untold_late =
        0;             ///< the same of what sounds from 25 ms on: a contact's click is over by then
    double mean_q = 0; ///< of what dies away, weighted by its energies; 0 where nothing does
    double unsure = 0; ///< mean relative deviation of Q, weighted so
    double swell_db =
        0;            ///< how far the loudest 10 ms of the first 0.12 s stand over the very first
    double modes = 0; ///< how many carry the energy: (Σ e)² / Σ e²
};

/// Natural logarithm of the odds that it is a ring: a logistic score of the evidence, its weights
/// in one table (ring_test.cpp). The prior: of all that leaps out of a workshop's noise one in
/// fifty is a strike.
double ring_log_odds(const RingEvidence& evidence);

/// Whether it is taken for a ring: at even odds or better. At the bench a strike refused costs a
/// second one, a disturbance accepted spoils figures.
bool is_ring(const RingEvidence& evidence);

/// Whether it may yet be one: by itself too little tells, but what is known of the plate may
/// (modes/ring/recognised.hpp), or the maker, who was there. Below it lie the disturbances. Of what
/// rings on less will do: a room's answer takes much.
bool may_be_ring(const RingEvidence& evidence);

/// Whether it surely rings longer than what falls or steps makes a room ring: so does Q less two of
/// its deviations.
bool rings_on(const RingEvidence& evidence);

} // namespace platewright::modes
