#pragma once
#include "trends/plate_report.hpp"

namespace platewright::cli {

/// What terminal and paper ask of a plate: the same as the bench asks of its newest session. Both
/// must outlive it.
trends::Question question_on(const ledger::PlateHistory& history,
                             const trends::Comparison* comparison = nullptr);

} // namespace platewright::cli
