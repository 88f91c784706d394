#pragma once
/// Where a mesh has free edges, and how much edge each triangle stands for.

#include "plate/mesh/mesh.hpp"

#include <array>
#include <vector>

namespace platewright::plate {

/// A triangle's part in the free edge near it.
struct EdgeShare {
    std::array<bool, 3> on_edge{}; // side k (corner k to k + 1) is a free edge
    double per_mm = 0.0;           // length of free edge over area that it stands for, 1/mm
    double along_x = 1.0;          // direction of the edge in plan
    double along_y = 0.0;
};

/// Spreads each free edge over the triangles within about one side's length of it (narrow, for a
/// mode's twist grows towards the edge): the sum of area * per_mm over the triangles nearest to an
/// edge loop is the loop's length.
std::vector<EdgeShare> share_edges(const PlanMesh& mesh);

} // namespace platewright::plate
