#pragma once
#include "plate/plan/taken_wood.hpp"
#include "trends/model/plate_study.hpp"

#include <optional>

namespace platewright::trends {

/// Of wood whose place is not known: how far a mode's answer may differ from that of even thinning,
/// in parts of it (CarriedMap::open_share of its frequency).
inline constexpr double k_place_share = 0.25;

/// The scales, and damp air that is set over to by a third too little, in parts of a plate's mass.
inline constexpr double k_scales_share = 0.004;

/// Fills in of which session the plate's modes and mass are, its air and its tapped modes, and why
/// there can't be a plan. In: study.session, the newest with a map. Out: the history in that air.
ledger::PlateHistory as_it_is_now(const ledger::PlateHistory& measured, std::size_t last,
                                  PlateStudy& study);

/// Thins study.thickness_mm by the mass that has come off since the map (CarriedMap), holds the
/// tapped modes less firmly, and says so first. Nothing where the map is of now. `wood`: before the
/// fit.
void carry_on(const ledger::PlateHistory& history, const plate::PlateWood& wood, PlateStudy& study);

/// The session whose map is the plate's graduation: the one before its first planned pass, or the
/// first that its maker called graduated, whichever came later. Of sessions up to `last`; nothing
/// where none of the two is there.
std::optional<std::size_t> graduation_of(const ledger::PlateHistory& history, std::size_t last);

/// What came off at the model's nodes between two sessions with a map: by both maps, and by what
/// was planned between them as far as the scales say it was done (taken_between). Readings lie
/// farther apart than hollows are wide: what was planned tells where to look.
plate::TakenWood taken_since(const ledger::PlateHistory& history, const PlateStudy& study,
                             std::size_t from, std::size_t to);

/// How far the study's plate lies below that graduation at the model's nodes
/// (plate/plan/graduation.hpp): by the two maps and what was planned between them (taken_between),
/// and by the passes that were planned since the newest of them, as far as the scales say they were
/// done. Empty where nothing came off since.
/// Threads: pure.
Eigen::VectorXd hollows_of(const ledger::PlateHistory& history, const PlateStudy& study);

} // namespace platewright::trends
