#pragma once
#include <vector>

#include "bench/snapshot.hpp"

namespace platewright::bench {

/// The large figures of a plate's open session: mode 1, 2, 5 (of a body A0, B1-, B1+), then whatever else bears a name, each with
/// its changes, its place beside the reference and its forecast. Reads history, session, naming, drift,
/// forecasts, comparison of `view`. Pure.
std::vector<ModeView> figures_of(const PlateView& view);

/// Sets last_tap_hz of each figure: the tap's partial nearest to the mode, within 3 %.
void set_last_tap(std::vector<ModeView>& figures, const std::vector<modes::Partial>& partials);

} // namespace platewright::bench
