#pragma once
#include "trends/drift/robust_line.hpp"

namespace platewright::trends {

/// How much of `present` (a mass, a thickness; above 0) must go until a new measurement lies past
/// `log_target` with this chance, by a line of logarithms; 0 when it does now, all of it when it
/// never does. Past: below where the line falls as it goes, else above.
double amount_to_reach(const RobustLine& line, double present, double log_target, double chance);

/// The chance of that once so much is gone.
double chance_past(const RobustLine& line, double left, double log_target);

} // namespace platewright::trends
