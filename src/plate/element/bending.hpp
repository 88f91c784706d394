#pragma once
/// Bending and transverse shear stiffness of a flat triangle.

#include "plate/element/laminate.hpp"
#include "plate/element/membrane.hpp"

#include <array>

namespace platewright::plate {

/// The free edges a facet has, and the edge that it stands for (see free_edge.hpp).
struct FacetEdge {
    std::array<bool, 3> on_edge{};      // side k runs from corner k to k + 1
    double per_m = 0.0;                 // length of free edge over area, 1/m
    Eigen::Vector2d along = {1.0, 0.0}; // direction of the edge in the facet's axes
    double twist_modulus_pa = 0.0;      // shear modulus along edge and inwards
    double across_modulus_pa = 0.0;     // shear modulus along edge and through thickness
};

/// Stiffness of the discrete Kirchhoff-Mindlin triangle (I. Katili, Int. J. Num. Meth. Eng. 36,
/// 1993, 1859), which is the discrete Kirchhoff triangle of J.-L. Batoz, K.-J. Bathe and L.-W. Ho
/// (ibid. 15, 1980) with transverse shear added on each side of it; here with orthotropic
/// stiffness turned along each side. Spruce's rolling shear needs it.
/// Twisting at a free edge: the shear flow turns round through the thickness within a layer about
/// as wide as the plate is thick, too narrow for a mesh. What it costs is known from the torsion
/// of a bar of rectangular section, J = b h^3 / 3 (1 - 0.630 h/b sqrt(G_edge/G_through)) (Saint-
/// Venant; S. P. Timoshenko and J. N. Goodier, Theory of Elasticity, from memory): each edge loses
/// 0.315 h sqrt(G_edge/G_through) of width in twist. Free sides are therefore kept shear-free, and
/// that width is taken off the twisting stiffness of the facets near the edge.
/// In: thickness at the corners (m), linear between; facet stiffness (Pa).
/// Order of freedoms a corner: w, theta_x, theta_y (right-handed rotations).
Matrix9 bending_stiffness(const FlatTriangle& t, const FacetStiffness& wood,
                          const Eigen::Vector3d& thickness_m, const FacetEdge& edge);

} // namespace platewright::plate
