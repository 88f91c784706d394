#pragma once
#include <optional>

#include "audio/devices.hpp"
#include "ledger/store.hpp"

namespace platewright::bench {

/// What the bench remembers from one day to the next, in the ledger's settings.
audio::InputChoice remembered_input(const ledger::Store& store);
void remember_input(ledger::Store& store, const audio::InputChoice& choice);

/// The plate last worked on; nothing where it is gone.
std::optional<ledger::Id> remembered_plate(const ledger::Store& store);
void remember_plate(ledger::Store& store, ledger::Id plate);

} // namespace platewright::bench
