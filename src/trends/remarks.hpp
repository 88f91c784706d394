#pragma once
#include "trends/drift/drift.hpp"

#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// Plain sentences beside a plate's drift: gains of mass that can hardly be, what the air can have
/// done since the last session, which sessions the forecasts set aside, where a mode stepped, and
/// named modes that the newest session lacks. None where there is nothing to say. `forecasts`: one
/// a track of `drift`, in order. Pure.
std::vector<std::string> remarks(const ledger::PlateHistory& history, const Drift& drift,
                                 std::span<const std::optional<Forecast>> forecasts);

/// The same of the air alone, for the bench: said where it can have moved a mode by more than a
/// pass is meant to, with what to do. Empty where the newest session's air is that of the one
/// before, or not known. Costs nothing.
std::string air_doubt(const ledger::PlateHistory& history);

} // namespace platewright::trends
