#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "ledger/record.hpp"
#include "modes/mode.hpp"
#include "modes/spectrum.hpp"
#include "plot/drift.hpp"
#include "plot/spectrum.hpp"
#include "trends/comparison.hpp"
#include "trends/drift.hpp"

namespace platewright::report {

/// From what was computed to what is drawn: the same for the screen, for paper and for the command line.

/// The drift of a plate. `forecasts` one a track, as trends::forecast gave them; a forecast runs
/// `ahead_g` grams on from the present mass. Reference frequencies come from `comparison`.
plot::DriftPicture drift_picture(const ledger::PlateHistory& history, const trends::Drift& drift,
                                 std::span<const std::optional<trends::Forecast>> forecasts,
                                 const std::optional<trends::Comparison>& comparison, double ahead_g = 3.0);

plot::SpectrumLine spectrum_line(const modes::Spectrum& spectrum, std::string name);

/// Where named modes stand, for a spectrum chart.
std::vector<plot::ModePost> mode_posts(std::span<const modes::NamedMode> modes);

} // namespace platewright::report
