#pragma once

#include "random.hpp"
#include "room.hpp"
#include "tables.hpp"

#include <vector>

namespace demo {

/// What the hold does to one mode: the plate is never hung or gripped twice the same way.
struct Hold {
    double pitch = 1.0; // factor on the frequency
    double loss = 1.0;  // factor on the damping
};

/// Scatter of the hold, as standard deviations relative to the value. A plate taken down and hung
/// again moves by 0.2 to 0.5 % (common practice, no source); from tap to tap it moves less.
constexpr double k_pitch_scatter_session = 0.0025;
constexpr double k_pitch_scatter_tap = 0.0012;
constexpr double k_loss_scatter_session = 0.04;
constexpr double k_loss_scatter_tap = 0.04;

Hold hold_of_session(Random& random);

/// One mode as one strike made it sound.
struct Sounded {
    int number = 0;
    double hz = 0.0;
    double q = 0.0;
    double amplitude = 0.0; // of the decaying sinusoid, carried back to the strike's first sample
};

struct Strike {
    Signal sound;                 // its first sample is the first touch of the hammer
    std::vector<Sounded> sounded; // one a mode, in the table's order
};

/// Strikes the plate once at a spot with a soft hammer. Each mode is a two-pole resonator driven by
/// the force of the contact (a half sine to the power 1.5, as of a Hertzian contact), heard
/// by its acceleration, so its sound is exactly one damped sinusoid once the hammer has left the
/// wood: amplitude = shape(spot) * radiates * frequency * |z * sum of force[m] z^-m|, z the mode's
/// pole. A click of a few milliseconds stands for the countless modes above the table. `holds` has
/// one entry a mode. Peak 1; amplitudes are scaled alike.
Strike strike(const Session& session, const std::string& spot, const std::vector<Hold>& holds,
              double rate_hz, Random& random);

} // namespace demo
