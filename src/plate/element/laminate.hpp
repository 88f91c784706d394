#pragma once
/// The stiffness of a thin facet of wood whose grain runs in global directions.

#include "plate/wood/wood.hpp"

#include <Eigen/Core>

namespace platewright::plate {

/// Compliance in the plate's axes, order xx yy zz yz xz xy with engineering shears, 1/Pa.
using Compliance = Eigen::Matrix<double, 6, 6>;

/// Of the wood as it lies in the plate: turned about the grain by the rings' lean, then about x by
/// the run-out.
Compliance compliance_of(const Wood& wood);

/// The wood's own axes R, L, T in the plate's, a column each.
Eigen::Matrix3d axes_of(const GrainLie& lie);

/// Stiffness of a facet in its own axes.
struct FacetStiffness {
    Eigen::Matrix3d plane; // Pa: stresses 11, 22, 12 from strains 11, 22, 2*12; plane stress
    Eigen::Matrix2d shear; // Pa: transverse stresses 13, 23 from engineering strains
    Eigen::Vector2d grain; // direction of the grain in the facet, unit length
};

/// Turns the three-dimensional compliance into the facet's axes and takes from it the plane-stress
/// part and the transverse shear part (their small coupling is left out). Wood is carved, not
/// bent: where the plate slopes, its fibres run out of the surface, and this is what softens it.
/// In: axes with orthonormal rows: first, second, normal.
FacetStiffness facet_stiffness(const Compliance& compliance, const Eigen::Matrix3d& axes);

/// Shear modulus (Pa) between two orthonormal directions.
double shear_modulus(const Compliance& compliance, const Eigen::Vector3d& first,
                     const Eigen::Vector3d& second);

} // namespace platewright::plate
