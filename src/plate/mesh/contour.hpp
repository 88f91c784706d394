#pragma once
/// Lines of equal value on a mesh: thickness contours, nodal lines, levels of a map.

#include "plate/mesh/mesh.hpp"

#include <Eigen/Core>

#include <vector>

namespace platewright::plate {

/// Open or closed lines along which `values` (one a node, linear between) equals `level`. A closed
/// line ends where it begins. Nodes exactly at the level count as above it.
/// Throws std::invalid_argument if there is not one value a node.
std::vector<std::vector<Point>> contour(const PlanMesh& mesh, const Eigen::VectorXd& values,
                                        double level);

/// Value at a place inside the mesh, linear between nodes; outside, at the nearest triangle's edge.
/// Cost: linear in the triangles.
double value_at(const PlanMesh& mesh, const Eigen::VectorXd& values, Point p);

} // namespace platewright::plate
