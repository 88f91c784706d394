#include "plate/mesh/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>
#include <utility>

namespace platewright::plate {
namespace {

// Points along a hole, of size: the tongues beside an f-hole bend over little.
constexpr double k_hole_spacing = 0.3;
constexpr double k_hole_spacing_mm = 6.0;  // at most: half of it is less than a hole's neck
constexpr double k_fine_beside_hole = 0.8; // of size: so far the lattice is of half the size
constexpr double k_clearance = 0.62;       // of size: least distance of lattice points from lines
constexpr int k_mesh_rounds = 3;           // triangulate and even out
constexpr int k_steps_a_round = 4;
constexpr int k_halvings = 5; // of a side: to a tenth of a millimetre on a violin

struct Fixed {
    Loop rim;
    std::vector<Loop> holes;
    std::vector<std::vector<Point>> lines;
};

Fixed place_fixed(const PlanRegion& region, double size_mm) {
    Fixed fixed;
    fixed.rim = spaced_loop(region.rim, size_mm);
    for (const auto& hole : region.holes) {
        fixed.holes.push_back(
            spaced_loop(hole, std::min(k_hole_spacing * size_mm, k_hole_spacing_mm)));
    }
    for (const auto& line : region.lines)
        fixed.lines.push_back(spaced(line, size_mm));
    return fixed;
}

std::vector<Point> loop_points(const Fixed& fixed) {
    std::vector<Point> points = fixed.rim;
    for (const auto& hole : fixed.holes) {
        points.insert(points.end(), hole.begin(), hole.end());
    }
    return points;
}

// Halves the sides that a triangulation would leave out, until there are none: else triangles lie
// across a narrow neck of a hole, or over the edge beside it.
void keep_sides(Fixed& fixed) {
    using Side = std::pair<int, int>;
    for (int round = 0; round < k_halvings; ++round) {
        std::set<Side> sides;
        for (const Triangle& t : triangulate(loop_points(fixed))) {
            for (std::size_t k = 0; k < 3; ++k) {
                sides.insert(std::minmax(t[k], t[(k + 1) % 3]));
            }
        }
        bool is_whole = true;
        int first = 0;
        const auto mend = [&](Loop& loop) {
            const int count = static_cast<int>(loop.size());
            Loop mended;
            for (int i = 0; i < count; ++i) {
                const int next = (i + 1) % count;
                const Point p = loop[static_cast<std::size_t>(i)],
                            q = loop[static_cast<std::size_t>(next)];
                mended.push_back(p);
                if (!sides.contains(Side(std::minmax(first + i, first + next)))) {
                    mended.push_back({0.5 * (p.x_mm + q.x_mm), 0.5 * (p.y_mm + q.y_mm)});
                    is_whole = false;
                }
            }
            first += count;
            loop = std::move(mended);
        };
        mend(fixed.rim);
        std::for_each(fixed.holes.begin(), fixed.holes.end(), mend);
        if (is_whole) {
            return;
        }
    }
}

bool is_inside(const Fixed& fixed, Point p) {
    return contains(fixed.rim, p) &&
           std::none_of(fixed.holes.begin(), fixed.holes.end(),
                        [&](const Loop& hole) { return contains(hole, p); });
}

bool is_near_a_hole(const Fixed& fixed, Point p, double near_mm) {
    return std::any_of(fixed.holes.begin(), fixed.holes.end(),
                       [&](const Loop& hole) { return distance_mm(hole, p) < near_mm; });
}

bool has_room(const Fixed& fixed, Point p, double clearance_mm) {
    if (distance_mm(fixed.rim, p) < clearance_mm) {
        return false;
    }
    for (const auto& hole : fixed.holes) {
        if (distance_mm(hole, p) < clearance_mm) {
            return false;
        }
    }
    for (const auto& line : fixed.lines)
        if (std::any_of(line.begin(), line.end(), [&](Point q) {
                return std::hypot(p.x_mm - q.x_mm, p.y_mm - q.y_mm) < clearance_mm;
            }))
            return false;
    return true;
}

// A lattice of equilateral triangles, symmetric about x = 0, where there is room for it; beside
// holes, where stress gathers, of half the size.
void add_lattice(const Fixed& fixed, double size_mm, std::vector<Point>& points) {
    double high_x = 0.0, low_y = fixed.rim[0].y_mm, high_y = low_y;
    for (const auto& p : fixed.rim) {
        high_x = std::max(high_x, std::abs(p.x_mm));
        low_y = std::min(low_y, p.y_mm);
        high_y = std::max(high_y, p.y_mm);
    }
    // Every second point of every second row of the fine lattice is one of the coarse.
    const double fine_mm = 0.5 * size_mm, row_mm = fine_mm * std::sqrt(3.0) / 2.0;
    int row = 0;
    for (double y = low_y + row_mm; y < high_y; y += row_mm, ++row) {
        const int columns = 2 * (static_cast<int>(std::ceil(high_x / size_mm)) + 1);
        for (int c = -columns; c <= columns; ++c) {
            const Point p{(c + (row % 2 == 0 ? 0.0 : 0.5)) * fine_mm, y};
            const bool is_coarse = row % 2 == 0 && (c - row / 2) % 2 == 0;
            if (!is_coarse && !is_near_a_hole(fixed, p, k_fine_beside_hole * size_mm)) {
                continue;
            }
            const double room_mm = k_clearance * (is_coarse ? size_mm : fine_mm);
            if (is_inside(fixed, p) && has_room(fixed, p, room_mm)) {
                points.push_back(p);
            }
        }
    }
}

std::vector<Triangle> inner_triangles(const Fixed& fixed, const std::vector<Point>& points) {
    auto triangles = triangulate(points);
    std::erase_if(triangles, [&](const Triangle& t) {
        Point middle{};
        for (const int k : t) {
            middle.x_mm += points[static_cast<std::size_t>(k)].x_mm / 3.0;
            middle.y_mm += points[static_cast<std::size_t>(k)].y_mm / 3.0;
        }
        return !is_inside(fixed, middle);
    });
    return triangles;
}

// Moves each free point to the mean of its neighbours.
void even_out(const std::vector<Triangle>& triangles, std::size_t fixed_count,
              std::vector<Point>& points) {
    std::vector<Point> sum(points.size());
    std::vector<int> count(points.size(), 0);
    for (const auto& t : triangles) {
        for (std::size_t k = 0; k < 3; ++k) {
            const auto at = static_cast<std::size_t>(t[k]);
            for (const std::size_t other : {(k + 1) % 3, (k + 2) % 3}) {
                const auto& q = points[static_cast<std::size_t>(t[other])];
                sum[at].x_mm += q.x_mm;
                sum[at].y_mm += q.y_mm;
                ++count[at];
            }
        }
    }
    for (std::size_t i = fixed_count; i < points.size(); ++i) {
        if (count[i] > 0) {
            points[i] = {sum[i].x_mm / count[i], sum[i].y_mm / count[i]};
        }
    }
}

} // namespace

PlanMesh mesh_plan(const PlanRegion& region, double size_mm) {
    if (!(size_mm > 0.0) || std::abs(signed_area_mm2(region.rim)) < 4.0 * size_mm * size_mm) {
        throw std::invalid_argument("mesh_plan: the region must hold several triangles");
    }
    Fixed fixed = place_fixed(region, size_mm);
    keep_sides(fixed);
    PlanMesh mesh;
    mesh.points = loop_points(fixed);
    for (const auto& line : fixed.lines) {
        mesh.lines.emplace_back();
        for (const auto& p : line) {
            mesh.lines.back().push_back(static_cast<int>(mesh.points.size()));
            mesh.points.push_back(p);
        }
    }
    const std::size_t fixed_count = mesh.points.size();
    add_lattice(fixed, size_mm, mesh.points);
    for (int round = 0; round < k_mesh_rounds; ++round) {
        mesh.triangles = inner_triangles(fixed, mesh.points);
        if (round + 1 < k_mesh_rounds) {
            for (int step = 0; step < k_steps_a_round; ++step) {
                even_out(mesh.triangles, fixed_count, mesh.points);
            }
        }
    }
    return mesh;
}

MeshPlace locate(const PlanMesh& mesh, Point p) {
    MeshPlace best;
    double best_least = -std::numeric_limits<double>::infinity();
    for (const Triangle& t : mesh.triangles) {
        const auto corner = [&](std::size_t k) {
            return mesh.points[static_cast<std::size_t>(t[k])];
        };
        const Point a = corner(0), b = corner(1), c = corner(2);
        const Eigen::Vector3d share =
            Eigen::Vector3d{twice_area_mm2(p, b, c), twice_area_mm2(p, c, a),
                            twice_area_mm2(p, a, b)} /
            twice_area_mm2(a, b, c);
        if (const double least = share.minCoeff(); least > best_least) {
            best_least = least; // inside, or the nearest to being inside
            best = {t, share.cwiseMax(0.0) / share.cwiseMax(0.0).sum()};
            if (least >= 0.0)
                break;
        }
    }
    return best;
}

} // namespace platewright::plate
