#pragma once

#include "room.hpp"
#include "tables.hpp"

#include <nlohmann/json.hpp>

namespace demo {

constexpr int k_rate_hz = 48000;

struct Performance {
    Signal sound;                 // as the microphone gave it, cut at full scale
    nlohmann::ordered_json truth; // strikes, disturbances and modes, for the manifest
};

/// Plays one session from beginning to end: room, strikes, disturbances, microphone. The same
/// session always gives the same sound.
/// truth.modes has for each mode the table's values and `sounded_hz`, `sounded_q`: what the good
/// strikes in fact gave after the scatter of the hold (means of frequency and of 1/Q); `level_db`
/// is the rms amplitude over the good strikes, relative to the strongest mode.
Performance play(const Session& session);

} // namespace demo
