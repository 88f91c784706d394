#pragma once
#include "audio/devices.hpp"
#include "ledger/store.hpp"
#include "modes/usual_band.hpp"
#include "trends/air/moisture.hpp"

#include <optional>

namespace platewright::bench {

/// What the bench remembers from one day to the next, in the ledger's settings.
audio::InputChoice remembered_input(const ledger::Store& store);
void remember_input(ledger::Store& store, const audio::InputChoice& choice);

/// The band that the maker chose to listen in.
modes::BandChoice remembered_band(const ledger::Store& store);
void remember_band(ledger::Store& store, const modes::BandChoice& band);
/// Where a plate's modes are looked for: as usual for its kind and part, with what was chosen put
/// in.
modes::UsualBand usual_band(const ledger::Store& store, const ledger::PlateHistory& of);

/// The plate last worked on; nothing where it is gone.
std::optional<ledger::Id> remembered_plate(const ledger::Store& store);
void remember_plate(ledger::Store& store, ledger::Id plate);

/// The air in which sessions are compared, of all programs on this ledger: 20 °C and 50 % until one
/// is said.
trends::Air remembered_air(const ledger::Store& store);
void remember_air(ledger::Store& store, const trends::Air& air);
/// "20:50"; nothing where it is no room's air.
std::optional<trends::Air> air_from(const std::string& text);
bool is_room_air(const trends::Air& air);

} // namespace platewright::bench
