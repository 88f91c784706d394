#pragma once
#include "bench/snapshot.hpp"

#include <vector>

namespace platewright::bench {

/// The large figures of a plate's open session: mode 1, 2, 5 (of a body A0, B1-, B1+), then
/// whatever else bears a name. Reads history and naming of `view`. Pure.
std::vector<ModeView> figures_of(const PlateView& view);

/// A tap's partials that lie where the session's named modes lie: of each the nearest, within 3 %.
std::vector<NamedPartial> named_partials(const std::vector<ModeView>& figures,
                                         const std::vector<modes::Partial>& partials);

} // namespace platewright::bench
