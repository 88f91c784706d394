#pragma once
#include "trends/model/plate_study.hpp"

#include <optional>

namespace platewright::trends {

/// The session whose map is the plate's graduation: the one before its first planned pass, or the
/// first that its maker called graduated, whichever came later. Of sessions up to `last`; nothing
/// where none of the two is there.
std::optional<std::size_t> graduation_of(const ledger::PlateHistory& history, std::size_t last);

/// How far the study's plate lies below that graduation at the model's nodes
/// (plate/plan/graduation.hpp): by the two maps, and by the passes that were planned since the
/// newest of them, as far as the scales say they were done. Empty where nothing came off since.
/// Threads: pure.
Eigen::VectorXd hollows_of(const ledger::PlateHistory& history, const PlateStudy& study);

} // namespace platewright::trends
