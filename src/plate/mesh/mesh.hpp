#pragma once
/// A triangle mesh of a plate in plan (seen from above), following outline, f-holes and lines.

#include "plate/mesh/delaunay.hpp"
#include "plate/shape/polygon.hpp"

#include <Eigen/Core>

#include <vector>

namespace platewright::plate {

/// What is to be covered: the outline, the holes cut out of it, and lines to set points on (the
/// middle of a bass bar).
struct PlanRegion {
    Loop rim;
    std::vector<Loop> holes;
    std::vector<std::vector<Point>> lines;
};

/// Points and counter-clockwise triangles; every triangle lies in the region.
struct PlanMesh {
    std::vector<Point> points;
    std::vector<Triangle> triangles;
    std::vector<std::vector<int>> lines; // the points along each of the region's lines, in order
};

/// Covers a region with nearly equilateral triangles of about size_mm a side.
/// Boundary points are placed first, a triangular lattice fills the inside, and a few rounds of
/// averaging even it out; the triangulation is Delaunay's.
/// Throws std::invalid_argument if the region is smaller than a few triangles.
/// Cost: about 20 ms for 800 points. Threads: pure. The same region gives the same mesh.
PlanMesh mesh_plan(const PlanRegion& region, double size_mm);

/// The triangle that holds a place, with the weights of its corners (sum 1); outside the mesh, the
/// triangle nearest to holding it.
struct MeshPlace {
    Triangle nodes{};
    Eigen::Vector3d weight = Eigen::Vector3d::Zero();
};
MeshPlace locate(const PlanMesh& mesh, Point p);

} // namespace platewright::plate
