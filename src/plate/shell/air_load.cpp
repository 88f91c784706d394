#include "plate/shell/air_load.hpp"

#include <Eigen/SparseCore>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <span>
#include <stdexcept>
#include <utility>
#include <vector>

namespace platewright::plate {
namespace {

using Corner = Eigen::Vector2d;
using Corners2 = std::array<Corner, 3>;

// Places and shares of a triangle's seven-point rule, of degree five (J. Radon 1948).
struct RulePoint {
    double a, b, c, share;
};
constexpr std::array<RulePoint, 7> k_rule{{
    {1.0 / 3.0, 1.0 / 3.0, 1.0 / 3.0, 0.225},
    {0.059715871789770, 0.470142064105115, 0.470142064105115, 0.132394152788506},
    {0.470142064105115, 0.059715871789770, 0.470142064105115, 0.132394152788506},
    {0.470142064105115, 0.470142064105115, 0.059715871789770, 0.132394152788506},
    {0.797426985353087, 0.101286507323456, 0.101286507323456, 0.125939180544827},
    {0.101286507323456, 0.797426985353087, 0.101286507323456, 0.125939180544827},
    {0.101286507323456, 0.101286507323456, 0.797426985353087, 0.125939180544827},
}};
// A leap that ends as the root of the distance from its rim, drawn with straight hats, acts like
// one that ends this much of a side too early: so much further out the rim's nodes are set. Found
// on the rigid disc at four sizes of mesh (0.111 to 0.118; tilted 0.118 to 0.123).
constexpr double k_rim_further = 0.117;
// Two triangles this many times their size apart count as points: what that leaves out is a
// thousandth.
constexpr double k_near_sizes = 4.0;

// Integral of 1/r over a triangle, seen from a place in its plane: a sum over its sides of the
// distance to the side's line by the difference of asinh of where the ends lie along it.
double potential_m(const Corners2& t, const Corner& from) {
    double sum = 0.0;
    for (std::size_t k = 0; k < 3; ++k) {
        const Corner a = t[k] - from, b = t[(k + 1) % 3] - from;
        const Corner along = (b - a).normalized();
        const double off = a.x() * along.y() - a.y() * along.x(); // positive inside
        if (std::abs(off) < 1e-12)
            continue;
        const double far = std::abs(off);
        sum += off * (std::asinh(along.dot(b) / far) - std::asinh(along.dot(a) / far));
    }
    return sum;
}

double between(const Corners2& outer, double area, const Corners2& inner) {
    double sum = 0.0;
    for (const RulePoint& p : k_rule)
        sum += p.share * potential_m(inner, p.a * outer[0] + p.b * outer[1] + p.c * outer[2]);
    return area * sum;
}

struct Sheet {
    std::vector<Corners2> corners;
    std::vector<Corner> middle;
    Eigen::VectorXd area_m2, size_m;
};

using RimSide = std::pair<int, int>;

// Sides that one triangle alone has, as it runs round them: the rims of sheet and holes.
std::vector<RimSide> rim_sides(const PlanMesh& mesh) {
    std::map<RimSide, RimSide> alone;
    for (const Triangle& t : mesh.triangles)
        for (std::size_t k = 0; k < 3; ++k) {
            const RimSide side{t[k], t[(k + 1) % 3]};
            const RimSide key = std::minmax(side.first, side.second);
            if (!alone.erase(key))
                alone.emplace(key, side);
        }
    std::vector<RimSide> sides;
    for (const auto& [key, side] : alone)
        sides.push_back(side);
    return sides;
}

std::vector<Corner> places_m(const PlanMesh& mesh, std::span<const RimSide> rims) {
    std::vector<Corner> at, further(mesh.points.size(), Corner::Zero());
    for (const Point& p : mesh.points)
        at.push_back(1e-3 * Corner(p.x_mm, p.y_mm));
    for (const auto& [a, b] : rims) {
        const Corner along = at[static_cast<std::size_t>(b)] - at[static_cast<std::size_t>(a)];
        const Corner out = 0.5 * k_rim_further * Corner(along.y(), -along.x()); // half a node
        further[static_cast<std::size_t>(a)] += out;
        further[static_cast<std::size_t>(b)] += out;
    }
    for (std::size_t i = 0; i < at.size(); ++i)
        at[i] += further[i];
    return at;
}

Sheet sheet_of(const PlanMesh& mesh, const std::vector<Corner>& places) {
    Sheet s;
    const auto n = static_cast<Eigen::Index>(mesh.triangles.size());
    s.area_m2.resize(n);
    s.size_m.resize(n);
    for (Eigen::Index e = 0; e < n; ++e) {
        const Triangle& t = mesh.triangles[static_cast<std::size_t>(e)];
        Corners2 c;
        for (std::size_t k = 0; k < 3; ++k)
            c[k] = places[static_cast<std::size_t>(t[k])];
        const Corner u = c[1] - c[0], v = c[2] - c[0];
        s.area_m2[e] = 0.5 * (u.x() * v.y() - u.y() * v.x());
        s.size_m[e] = std::max({u.norm(), v.norm(), (c[2] - c[1]).norm()});
        s.middle.push_back((c[0] + c[1] + c[2]) / 3.0);
        s.corners.push_back(c);
    }
    return s;
}

// Double integrals of 1/r over each two triangles, m^3.
Eigen::MatrixXd potentials_m3(const Sheet& s) {
    const auto n = s.area_m2.size();
    Eigen::MatrixXd all(n, n);
    for (Eigen::Index e = 0; e < n; ++e)
        for (Eigen::Index f = 0; f <= e; ++f) {
            const auto a = static_cast<std::size_t>(e), b = static_cast<std::size_t>(f);
            const double apart = (s.middle[a] - s.middle[b]).norm();
            const bool is_near = apart < k_near_sizes * std::max(s.size_m[e], s.size_m[f]);
            all(e, f) = all(f, e) = is_near
                                        ? 0.5 * (between(s.corners[a], s.area_m2[e], s.corners[b]) +
                                                 between(s.corners[b], s.area_m2[f], s.corners[a]))
                                        : s.area_m2[e] * s.area_m2[f] / apart;
        }
    return all;
}

// Number of each node among those off every rim; -1 on a rim.
std::vector<int> inner_nodes(const PlanMesh& mesh, std::span<const RimSide> rims) {
    std::vector<int> number(mesh.points.size(), 0);
    for (const auto& [a, b] : rims)
        number[static_cast<std::size_t>(a)] = -1; // each has one side that begins there
    int next = 0;
    for (int& one : number)
        if (one == 0)
            one = next++;
    return number;
}

} // namespace

AirLoad::AirLoad(const PlanMesh& mesh) {
    const std::vector<RimSide> rims = rim_sides(mesh);
    const Sheet s = sheet_of(mesh, places_m(mesh, rims));
    const std::vector<int> inner = inner_nodes(mesh, rims);
    const auto n = 1 + *std::max_element(inner.begin(), inner.end());
    if (n < 1)
        throw std::invalid_argument("AirLoad: a mesh without inner nodes");
    gram_ = Eigen::MatrixXd::Zero(n, static_cast<Eigen::Index>(mesh.points.size()));
    std::array<std::vector<Eigen::Triplet<double>>, 2> slopes; // of the hats, 1/m
    for (std::size_t e = 0; e < mesh.triangles.size(); ++e) {
        const auto row = static_cast<Eigen::Index>(e);
        for (std::size_t k = 0; k < 3; ++k) {
            const int hat = inner[static_cast<std::size_t>(mesh.triangles[e][k])];
            if (hat < 0)
                continue;
            const Corner across = s.corners[e][(k + 2) % 3] - s.corners[e][(k + 1) % 3];
            slopes[0].emplace_back(row, hat, -across.y() / (2.0 * s.area_m2[row]));
            slopes[1].emplace_back(row, hat, across.x() / (2.0 * s.area_m2[row]));
            for (std::size_t j = 0; j < 3; ++j)
                gram_(hat, mesh.triangles[e][j]) += s.area_m2[row] / (j == k ? 6.0 : 12.0);
        }
    }
    const Eigen::MatrixXd potentials = potentials_m3(s);
    Eigen::MatrixXd energy = Eigen::MatrixXd::Zero(n, n);
    for (const auto& part : slopes) {
        Eigen::SparseMatrix<double> slope(static_cast<Eigen::Index>(mesh.triangles.size()), n);
        slope.setFromTriplets(part.begin(), part.end());
        energy += slope.transpose() * (potentials * slope);
    }
    leap_.compute(energy / (4.0 * std::numbers::pi));
    if (leap_.info() != Eigen::Success)
        throw std::domain_error("AirLoad: the mesh has triangles without area");
}

Eigen::MatrixXd AirLoad::moved_m3(const Eigen::MatrixXd& z) const {
    if (z.rows() != gram_.cols())
        throw std::invalid_argument("AirLoad: motions of another mesh");
    const Eigen::MatrixXd half = leap_.matrixL().solve(gram_ * z);
    return half.transpose() * half;
}

double air_density_kg_m3(double temperature_c, double humidity_pct, double pressure_hpa) {
    return (0.34848 * pressure_hpa - 0.009 * humidity_pct * std::exp(0.061 * temperature_c)) /
           (273.15 + temperature_c);
}

} // namespace platewright::plate
