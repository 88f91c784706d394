#include "plate/element/free_edge.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>

namespace platewright::plate {
namespace {

constexpr double k_band = 1.3; // width of the band, in mean lengths of the free sides

struct FreeSide {
    int from, to;
    std::size_t loop;
};

// Sides that belong to one triangle only, in loops.
std::vector<FreeSide> free_sides(const PlanMesh& mesh, std::vector<EdgeShare>& shares) {
    std::map<std::pair<int, int>, int> uses;
    for (const auto& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k)
            ++uses[std::minmax(t[k], t[(k + 1) % 3])];
    std::map<int, int> next;
    for (std::size_t e = 0; e < mesh.triangles.size(); ++e) {
        const auto& t = mesh.triangles[e];
        for (std::size_t k = 0; k < 3; ++k)
            if (uses[std::minmax(t[k], t[(k + 1) % 3])] == 1) {
                shares[e].on_edge[k] = true;
                next[t[k]] = t[(k + 1) % 3];
            }
    }
    std::vector<FreeSide> sides;
    for (std::size_t loop = 0; !next.empty(); ++loop) {
        int at = next.begin()->first;
        for (auto found = next.find(at); found != next.end(); found = next.find(at)) {
            const int to = found->second;
            sides.push_back({at, to, loop});
            next.erase(found);
            at = to;
        }
    }
    return sides;
}

} // namespace

std::vector<EdgeShare> share_edges(const PlanMesh& mesh) {
    std::vector<EdgeShare> shares(mesh.triangles.size());
    const auto sides = free_sides(mesh, shares);
    const auto place = [&](int node) { return mesh.points[static_cast<std::size_t>(node)]; };
    const std::size_t loops = sides.empty() ? 0 : sides.back().loop + 1;
    std::vector<double> length_mm(loops, 0.0), area_mm2(loops, 0.0);
    for (const auto& side : sides)
        length_mm[side.loop] += std::hypot(place(side.to).x_mm - place(side.from).x_mm,
                                           place(side.to).y_mm - place(side.from).y_mm);
    const double all_mm = std::accumulate(length_mm.begin(), length_mm.end(), 0.0);
    const double band_mm =
        sides.empty() ? 0.0 : k_band * all_mm / static_cast<double>(sides.size());
    std::vector<std::size_t> nearest_loop(shares.size(), loops);
    for (std::size_t e = 0; e < shares.size(); ++e) {
        const auto& t = mesh.triangles[e];
        const std::array<Point, 3> c{place(t[0]), place(t[1]), place(t[2])};
        const Point middle{(c[0].x_mm + c[1].x_mm + c[2].x_mm) / 3.0,
                           (c[0].y_mm + c[1].y_mm + c[2].y_mm) / 3.0};
        double nearest = band_mm;
        for (const auto& side : sides) {
            const std::array<Point, 2> ends{place(side.from), place(side.to)};
            const double distance = distance_mm(ends, middle);
            if (distance >= nearest)
                continue;
            nearest = distance;
            nearest_loop[e] = side.loop;
            const double dx = ends[1].x_mm - ends[0].x_mm, dy = ends[1].y_mm - ends[0].y_mm;
            const double length = std::hypot(dx, dy);
            shares[e].along_x = dx / length;
            shares[e].along_y = dy / length;
        }
        if (nearest_loop[e] < loops) {
            shares[e].per_mm = signed_area_mm2(c); // the area, until the sums are known
            area_mm2[nearest_loop[e]] += shares[e].per_mm;
        }
    }
    for (std::size_t e = 0; e < shares.size(); ++e)
        if (nearest_loop[e] < loops)
            shares[e].per_mm = length_mm[nearest_loop[e]] / area_mm2[nearest_loop[e]];
    return shares;
}

} // namespace platewright::plate
