#pragma once
/// A cut tried on the model before it is made on the wood.

#include "plate/fit/fit.hpp"

#include <vector>

namespace platewright::plate {

/// Wood taken off the inside round a place: full depth in the middle, nothing at the rim of it, as
/// a raised cosine between.
struct Cut {
    bool operator==(const Cut&) const = default;
    Point at;
    double across_mm = 60.0;
    double depth_mm = 0.2; // in the middle
};
double depth_mm(const Cut& cut, Point p);

/// What a cut should do to each mode asked for, by the fit.
struct Rehearsal {
    Eigen::VectorXd removal_mm; // at the nodes
    double wood_g = 0.0;
    double thinnest_mm = 0.0; // that would be left where it is taken
    std::vector<ShiftForecast> shifts;
};

/// As forecast_over, with what the model's mesh leaves open of a local cut: 54 sensitivities, 0.1
/// mm off a patch of 10 cm^2 each, were 0.015 Hz off CalculiX's (root mean square).
/// In: thickness at the nodes as measured. Cost: 60 ms and 25 ms a sample. Threads: pure.
Rehearsal rehearse(const PlateModel& model, const PlateFit& fit, const FittedState& now,
                   const Eigen::VectorXd& thickness_mm, const Cut& cut,
                   std::span<const int> numbers);

} // namespace platewright::plate
