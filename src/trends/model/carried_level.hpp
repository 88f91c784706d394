#pragma once
#include "trends/model/plate_study.hpp"

namespace platewright::trends {

/// Carries the earlier sessions that the study's fit rests on to the plate as it is now, and fills
/// in study.modes' levels by all of them: hanging a plate anew moves a mode by as much as a last
/// pass does, and the newest session alone knows nothing of it.
/// A pass's shift is the model's for the wood that both maps, what was planned and the scales say
/// was taken; its deviation theirs and the fit's. Sessions are joined by their variances from the
/// oldest to the newest (a level that wanders: R. E. Kalman, J. Basic Eng. 82, 1960, 35; J. Durbin,
/// S. J. Koopman, Time Series Analysis by State Space Methods, ch. 2, both from memory). Where the
/// newest stands off what the earlier ones say by more than three deviations it stands alone: a bar
/// was trimmed, ground laid on, or an earlier name was wrong.
/// Levels stay the session's own where the fit is not plausible. Cost: 0.3 s a pass, of the newest
/// three. Threads: pure.
void carry_levels(const ledger::PlateHistory& history, PlateStudy& study);

} // namespace platewright::trends
