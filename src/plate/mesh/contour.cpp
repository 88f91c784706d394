#include "plate/mesh/contour.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>

namespace platewright::plate {
namespace {

using MeshSide = std::pair<int, int>; // of two nodes, the smaller first

// One piece of a line inside a triangle, from one of its sides to another.
struct Piece {
    MeshSide from, to;
};

std::vector<Piece> pieces(const PlanMesh& mesh, const Eigen::VectorXd& values, double level) {
    std::vector<Piece> found;
    for (const auto& t : mesh.triangles) {
        std::vector<MeshSide> cut;
        for (std::size_t k = 0; k < 3; ++k) {
            const int a = t[k], b = t[(k + 1) % 3];
            if ((values[a] >= level) != (values[b] >= level))
                cut.push_back(std::minmax(a, b));
        }
        if (cut.size() == 2)
            found.push_back({cut[0], cut[1]});
    }
    return found;
}

Point crossing(const PlanMesh& mesh, const Eigen::VectorXd& values, double level, MeshSide side) {
    const Point a = mesh.points[static_cast<std::size_t>(side.first)];
    const Point b = mesh.points[static_cast<std::size_t>(side.second)];
    const double t = (level - values[side.first]) / (values[side.second] - values[side.first]);
    return {a.x_mm + t * (b.x_mm - a.x_mm), a.y_mm + t * (b.y_mm - a.y_mm)};
}

} // namespace

std::vector<std::vector<Point>> contour(const PlanMesh& mesh, const Eigen::VectorXd& values,
                                        double level) {
    if (values.size() != static_cast<Eigen::Index>(mesh.points.size()))
        throw std::invalid_argument("contour: needs a value at every node");
    std::multimap<MeshSide, MeshSide> next; // each piece both ways
    for (const auto& piece : pieces(mesh, values, level)) {
        next.emplace(piece.from, piece.to);
        next.emplace(piece.to, piece.from);
    }
    const auto take = [&](MeshSide from, MeshSide to) {
        const auto [first, last] = next.equal_range(from);
        next.erase(
            std::find_if(first, last, [&](const auto& entry) { return entry.second == to; }));
    };
    std::vector<std::vector<Point>> lines;
    while (!next.empty()) {
        // begin at an end of an open line while there is one
        auto begin = std::find_if(next.begin(), next.end(),
                                  [&](const auto& entry) { return next.count(entry.first) == 1; });
        if (begin == next.end())
            begin = next.begin();
        MeshSide at = begin->first;
        std::vector<Point> line{crossing(mesh, values, level, at)};
        for (auto step = next.find(at); step != next.end(); step = next.find(at)) {
            const MeshSide to = step->second;
            take(at, to);
            take(to, at);
            line.push_back(crossing(mesh, values, level, to));
            at = to;
        }
        lines.push_back(std::move(line));
    }
    return lines;
}

double value_at(const PlanMesh& mesh, const Eigen::VectorXd& values, Point p) {
    const MeshPlace place = locate(mesh, p);
    double value = 0.0;
    for (int k = 0; k < 3; ++k)
        value += place.weight[k] * values[place.nodes[static_cast<std::size_t>(k)]];
    return value;
}

} // namespace platewright::plate
