#pragma once
/// One flat triangle of the plate's middle surface: stiffness and mass in its own axes.

#include "plate/element/bending.hpp"
#include "plate/element/free_edge.hpp"

namespace platewright::plate {

using Matrix18 = Eigen::Matrix<double, 18, 18>;
using Corners = Eigen::Matrix3d; // a column a corner: x, y, z in m

/// Stiffness in the facet's axes, and mass between its corners.
struct Facet {
    Eigen::Matrix3d axes; // orthonormal rows: first side, in plane, normal
    Matrix9 membrane;     // u v theta_z a corner
    Matrix9 bending;      // w theta_x theta_y a corner, transverse shear included
    Eigen::Matrix3d mass; // kg between corners, the same for x, y and z
};

/// Builds a facet from its corners, the thickness there (m) and the wood.
/// Mass is a mean of consistent and lumped mass, whose errors are opposite; rotations carry none.
/// Cost: about 4 microseconds.
Facet make_facet(const Corners& corners, const Eigen::Vector3d& thickness_m,
                 const Compliance& compliance, double density_kg_m3, const EdgeShare& edge);

/// Stiffness in global axes; freedoms a corner: x y z and the rotations about x y z.
Matrix18 global_stiffness(const Facet& facet);

/// Motions of a facet's corners: 18 freedoms, a column a mode, sixteen modes at most.
inline constexpr int k_most_motions = 16;
using FacetMotions = Eigen::Matrix<double, 18, Eigen::Dynamic, Eigen::ColMajor, 18, k_most_motions>;
using MotionValues = Eigen::Matrix<double, 1, Eigen::Dynamic, Eigen::RowMajor, 1, k_most_motions>;

/// Energies of each motion.
struct FacetEnergies {
    MotionValues membrane; // twice the strain energy, J
    MotionValues bending;
    MotionValues kinetic; // motion^T M motion
};
FacetEnergies energies_of(const Facet& facet, const FacetMotions& motion);

} // namespace platewright::plate
