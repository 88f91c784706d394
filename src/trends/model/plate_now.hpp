#pragma once
#include "trends/model/plate_study.hpp"

namespace platewright::trends {

/// Fills in of which session the plate's modes and mass are, its air and its tapped modes, and why
/// there can't be a plan. In: study.session, the newest with a map. Out: the history in that air.
ledger::PlateHistory as_it_is_now(const ledger::PlateHistory& measured, std::size_t last,
                                  PlateStudy& study);

/// Thins study.thickness_mm evenly by the mass that has come off since the map, holds the tapped
/// modes less firmly, and says so first. Nothing where the map is of now. `wood`: before the fit.
void carry_on(const ledger::PlateHistory& history, const plate::PlateWood& wood, PlateStudy& study);

} // namespace platewright::trends
