#pragma once
#include "modes/estimate/damped_model.hpp"

#include <span>
#include <vector>

namespace platewright::modes {

/// How the room answers the plate, as one tap tells.
struct Reverberation {
    bool operator==(const Reverberation&) const = default;
    double share = 0; ///< energy of the reverberation over the direct sound's; 0: none is seen
    double decay_per_s = 0; ///< of its amplitude: T60 = 6.91 / this; 0 where none is seen
};

/// A channel's samples as the room is looked for in them; all of one whitener, of a room noise of
/// variance one.
struct RoomSamples {
    std::span<const double> contact; ///< ends where the ring begins: the hammer on the wood
    std::span<const double> left;    ///< the ring's less the fit
    double rate_hz = 0;
    double low = 0, high = 0; ///< band looked at, radians a sample
};

/// The room, and which components of the fit are its own.
struct HeardRoom {
    Reverberation room;
    std::vector<bool> is_rooms; ///< by component; none where no room is seen
};

/// A diffuse field's spectrum is the direct sound's times `share` times an exponential variable
/// (Schroeder 1954, docs/sources.md#schroeder). So share is the median, over blocks of 8 Hz, of
/// what no mode tells over what the contact and the modes tell, near the strongest of that; and
/// what stands out of the reverberation of all that is stronger by no more than such a variable
/// does is the room's. The decay follows from the backward integral of what no mode tells
/// (Schroeder 1965). A room that the fit leaves nothing of, or that lies in the noise, is not seen.
/// In:   ring and contact in samples; components as fitted. Pure. Cost: below 0.1 ms where no room
/// is seen, else a millisecond.
HeardRoom hear_room(const RoomSamples& samples, const std::vector<Component>& components);

/// How many times longer a mode seems to ring than it does: one pole fitted to the direct sound and
/// a diffuse tail of energy R times its own has, in the median, its decay over (1 + R)^(2/3)
/// (simulated, R 0.1 to 2 and rooms that die 0.1 to 0.7 times as fast: docs/physics.md).
double lengthening(const Reverberation& room);

/// Standard deviation that the room gives a mode's decay, as a share of it: a pole fitted to a mode
/// of decay δ that is heard with its reverberation r(τ) is off, to first order, by 4 δ² ∫ r(τ) τ
/// e^{-(δ + jω) τ} dτ; of a diffuse tail of decay γ and energy R that is 2 √(R ρ / (1 + ρ)³), ρ = γ
/// / δ (own derivation, docs/physics.md). R / (1 + R) stands for R here: the decay's logarithm
/// spreads no wider than that where the reverberation is as strong as the direct sound.
///
/// In:   decay_per_s > 0: the mode's own, not lengthened by the room.
double decay_deviation(const Reverberation& room, double decay_per_s);

/// The same of a mode's frequency, Hz, of R itself.
double frequency_deviation_hz(const Reverberation& room, double decay_per_s);

/// Half of the 95 % interval that it leaves of the frequency of a mode like a violin plate's
/// mode 5, 350 Hz with Q 60: cents.
double cost_cents(const Reverberation& room);

} // namespace platewright::modes
