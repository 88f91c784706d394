#pragma once
#include "bench/command.hpp"
#include "ledger/store.hpp"

namespace platewright::bench {

/// What was entered in the wrong place, put right (Store's corrections). Each throws base::Failure
/// with the store's sentence where it can't be. Gives the table that changed, for
/// Engine::State::changed.
std::string_view correct(ledger::Store& store, const command::MoveSession& c);
std::string_view correct(ledger::Store& store, const command::MovePlate& c);
std::string_view correct(ledger::Store& store, const command::SetBegun& c);
std::string_view correct(ledger::Store& store, const command::SetSpot& c);
std::string_view correct(ledger::Store& store, const command::TakeOutReadings& c);

} // namespace platewright::bench
