#pragma once
/// What a few heights of the outside would be worth to a forecast.

#include "plate/fit.hpp"

#include <optional>
#include <vector>

namespace platewright::plate {

/// Places on the centre line, as a template of the long arch has them, and what reading a height at
/// each would leave of a forecast's deviation.
struct HeightsWorth {
    int number = 0; // the mode that gains most
    std::vector<Point> places;
    double remains = 1.0; // of the forecast's deviation
};

/// Nothing where the heights would narrow no forecast by a fifth or more, as where they are known.
/// The fit's covariance conditioned on heights read to ArchPriors::reading_mm (Gaussian
/// conditioning; Rasmussen and Williams 2006, eq. A.6), for the straight line of each shift.
/// now, then: as forecast_shifts takes them. Cost: 1 ms.
std::optional<HeightsWorth> heights_worth(const PlateModel& model, const PlateFit& fit,
                                          const FittedState& now, const FittedState& then,
                                          std::span<const ShiftForecast> forecasts);

} // namespace platewright::plate
