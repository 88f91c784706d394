#include "plate/element/free_edge.hpp"
#include "plate/mesh/delaunay.hpp"
#include "support/catch.hpp"

#include <Eigen/LU>

#include <algorithm>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

std::array<Point, 3> corners_of(const PlanMesh& mesh, const Triangle& t) {
    const auto at = [&](std::size_t k) { return mesh.points[static_cast<std::size_t>(t[k])]; };
    return {at(0), at(1), at(2)};
}

} // namespace

TEST_CASE("triangles near an edge stand for all of it, along it, and those within for none") {
    const Loop rim{{0, 0}, {200, 0}, {200, 140}, {0, 140}},
        hole{{80, 50}, {80, 90}, {120, 90}, {120, 50}};
    constexpr double k_size_mm = 8.0;
    const PlanMesh mesh = mesh_plan({rim, {hole}, {}}, k_size_mm);
    const auto shares = share_edges(mesh);
    REQUIRE(shares.size() == mesh.triangles.size());
    double of_rim_mm = 0.0, of_hole_mm = 0.0, sides_mm = 0.0;
    for (std::size_t e = 0; e < shares.size(); ++e) {
        const auto c = corners_of(mesh, mesh.triangles[e]);
        const Point middle{(c[0].x_mm + c[1].x_mm + c[2].x_mm) / 3.0,
                           (c[0].y_mm + c[1].y_mm + c[2].y_mm) / 3.0};
        const double to_rim = distance_mm(rim, middle), to_hole = distance_mm(hole, middle);
        const double stands_for_mm = shares[e].per_mm * signed_area_mm2(c);
        (to_rim < to_hole ? of_rim_mm : of_hole_mm) += stands_for_mm;
        if (std::min(to_rim, to_hole) > 2.0 * k_size_mm)
            CHECK(stands_for_mm == 0.0);
        if (to_rim < k_size_mm && middle.x_mm > 20 && middle.x_mm < 180)
            CHECK(std::abs(shares[e].along_x) == Approx(1.0));
        if (to_rim < k_size_mm && middle.y_mm > 20 && middle.y_mm < 120)
            CHECK(std::abs(shares[e].along_y) == Approx(1.0));
        for (std::size_t k = 0; k < 3; ++k) {
            const Point a = c[k], b = c[(k + 1) % 3];
            const Point half{0.5 * (a.x_mm + b.x_mm), 0.5 * (a.y_mm + b.y_mm)};
            const bool is_free = std::min(distance_mm(rim, half), distance_mm(hole, half)) < 1e-6;
            CHECK(shares[e].on_edge[k] == is_free);
            sides_mm += is_free ? std::hypot(b.x_mm - a.x_mm, b.y_mm - a.y_mm) : 0.0;
        }
    }
    CHECK(of_rim_mm == Approx(680.0));
    CHECK(of_hole_mm == Approx(160.0));
    CHECK(sides_mm == Approx(840.0));
}

TEST_CASE("no point lies in a triangle's circle, and the triangles fill the hull") {
    // Delaunay's property, point by point; a lattice with its rounding beside scattered points.
    std::vector<Point> points{{0, 0}, {100, 0}, {100, 60}, {0, 60}};
    for (int k = 1; k <= 60; ++k) // a low-discrepancy sequence (Kronecker's, of the golden ratio)
        points.push_back({100.0 * std::fmod(0.6180339887 * k, 1.0), 60.0 * k / 61.0});
    double area_mm2 = 0.0;
    for (const Triangle& t : triangulate(points)) {
        const auto at = [&](std::size_t k) { return points[static_cast<std::size_t>(t[k])]; };
        area_mm2 += signed_area_mm2(std::array{at(0), at(1), at(2)});
        CHECK(signed_area_mm2(std::array{at(0), at(1), at(2)}) > 0.0);
        for (const Point p : points) { // the determinant of the in-circle test
            Eigen::Matrix3d m;
            for (int k = 0; k < 3; ++k) {
                const double dx = at(static_cast<std::size_t>(k)).x_mm - p.x_mm,
                             dy = at(static_cast<std::size_t>(k)).y_mm - p.y_mm;
                m.row(k) << dx, dy, dx * dx + dy * dy;
            }
            CHECK(m.determinant() < 1e-6);
        }
    }
    CHECK(area_mm2 == Approx(6000.0));
}
