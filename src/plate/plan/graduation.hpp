#pragma once
/// How deep a plate has been hollowed since it was graduated.

#include "plate/plan/removal.hpp"

namespace platewright::plate {

/// What lies below the smooth graduation at each node (mm; negative above it): what came off since
/// `graduation_mm` was the plate's thickness, less what that is on the mean over the plate.
/// Thinning evenly keeps a graduation; a hollow is what one place lost beyond that.
Eigen::VectorXd hollows_mm(const PlateModel& model, const Eigen::VectorXd& graduation_mm,
                           const Eigen::VectorXd& now_mm);

/// The depths of the strokes that come nearest to a field of depths at the nodes (least squares,
/// the places that no stroke reaches left out). Negative where the field is.
Eigen::VectorXd as_strokes(const RemovalBasis& basis, const Eigen::VectorXd& depth_mm);

} // namespace platewright::plate
