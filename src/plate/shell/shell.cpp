#include "plate/shell/shell.hpp"

#include "plate/shell/eigen_modes.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Geometry> // cross

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr double k_shift_hz = 40.0; // of the order of the lowest mode
constexpr double k_shift = 4.0 * std::numbers::pi * std::numbers::pi * k_shift_hz * k_shift_hz;

Eigen::MatrixXd orthonormal_by_mass(const SparseMatrix& node_mass, Eigen::MatrixXd x) {
    for (int pass = 0; pass < 2; ++pass) {
        const Eigen::MatrixXd gram = x.transpose() * by_mass(node_mass, x);
        const Eigen::MatrixXd lower = gram.llt().matrixL();
        lower.triangularView<Eigen::Lower>().transpose().solveInPlace<Eigen::OnTheRight>(x);
    }
    return x;
}

// Freedoms of a corner hung d below its node: moved by the node's rotation too.
Matrix18 hung(const Matrix18& k, const Eigen::Vector3d& drop) {
    Matrix18 turned = k;
    for (int c = 0; c < 3; ++c) {
        turned.col(6 * c + 4) += drop[c] * turned.col(6 * c);
        turned.col(6 * c + 3) -= drop[c] * turned.col(6 * c + 1);
    }
    for (int c = 0; c < 3; ++c) {
        turned.row(6 * c + 4) += drop[c] * turned.row(6 * c);
        turned.row(6 * c + 3) -= drop[c] * turned.row(6 * c + 1);
    }
    return turned;
}

} // namespace

Eigen::VectorXd lambda_of(const Eigen::VectorXd& frequency_hz) {
    return (2.0 * std::numbers::pi * frequency_hz).cwiseAbs2();
}

Eigen::VectorXd frequency_of(const Eigen::VectorXd& lambda) {
    return lambda.cwiseMax(0.0).cwiseSqrt() / (2.0 * std::numbers::pi);
}

WoodTable::WoodTable(const ShellWood& wood)
    : compliance_{compliance_of(wood.left), compliance_of(wood.right), compliance_of(wood.bar), {}},
      density_{wood.left.density_kg_m3, wood.right.density_kg_m3, wood.bar.density_kg_m3,
               0.5 * (wood.left.density_kg_m3 + wood.right.density_kg_m3)} {
    compliance_[3] = 0.5 * (compliance_[0] + compliance_[1]);
}

Facet WoodTable::facet(const FacetInput& input) const {
    const auto at = static_cast<std::size_t>(input.wood);
    return make_facet(input.corners, input.thickness_m, compliance_[at], density_[at], input.edge);
}

double WoodTable::mass_kg(const FacetInput& input) const {
    const Eigen::Vector3d side = input.corners.col(1) - input.corners.col(0);
    const Eigen::Vector3d other = input.corners.col(2) - input.corners.col(0);
    return density_[static_cast<std::size_t>(input.wood)] * 0.5 * side.cross(other).norm() *
           input.thickness_m.mean();
}

FacetMotions facet_motion(const FacetInput& input, const Eigen::MatrixXd& shapes) {
    FacetMotions motion(18, shapes.cols());
    for (int c = 0; c < 3; ++c) {
        motion.middleRows<6>(6 * c) =
            shapes.middleRows<6>(6 * input.nodes[static_cast<std::size_t>(c)]);
        if (input.drop_m[c] != 0.0) {
            motion.row(6 * c) += input.drop_m[c] * motion.row(6 * c + 4);
            motion.row(6 * c + 1) -= input.drop_m[c] * motion.row(6 * c + 3);
        }
    }
    return motion;
}

Shell::Shell(PlanMesh mesh, ShellBar bar)
    : mesh_(std::move(mesh)), bar_(std::move(bar)), node_points_(mesh_.points), facets_([this] {
          const auto edges = share_edges(mesh_);
          std::vector<Place> places;
          for (std::size_t e = 0; e < edges.size(); ++e) {
              double low = 0.0, high = 0.0;
              for (const int k : mesh_.triangles[e]) {
                  const double x = mesh_.points[static_cast<std::size_t>(k)].x_mm;
                  low = std::min(low, x);
                  high = std::max(high, x);
              }
              const bool lies_across = low < -0.1 && high > 0.1;
              places.push_back({mesh_.triangles[e], edges[e],
                                lies_across  ? FacetInput::Wooded::joint
                                : low < -0.1 ? FacetInput::Wooded::left
                                             : FacetInput::Wooded::right});
          }
          return places;
      }()),
      pattern_((add_bar(), [this] {
          std::vector<Triangle> triangles;
          for (const auto& facet : facets_)
              triangles.push_back(facet.nodes);
          return ShellPattern(static_cast<int>(node_points_.size()), triangles);
      }())) {}

void Shell::add_bar() {
    if (bar_.nodes.size() != bar_.height_mm.size())
        throw std::invalid_argument("Shell: the bar needs a height at each of its nodes");
    for (std::size_t i = 0; i < bar_.nodes.size(); ++i) {
        const auto point = mesh_.points[static_cast<std::size_t>(bar_.nodes[i])];
        node_points_.push_back(point);
        if (i == 0)
            continue;
        const int foot = static_cast<int>(node_points_.size()) - 1;
        const Point before = node_points_[static_cast<std::size_t>(foot) - 1];
        const double dx = point.x_mm - before.x_mm, dy = point.y_mm - before.y_mm;
        const double length = std::hypot(dx, dy);
        EdgeShare edge; // the bar's lower edge is free
        edge.per_mm = 2.0 / (bar_.height_mm[i] + bar_.height_mm[i - 1]);
        edge.along_x = dx / length;
        edge.along_y = dy / length;
        facets_.push_back(
            {{foot - 1, bar_.nodes[i], bar_.nodes[i - 1]}, edge, FacetInput::Wooded::bar});
        edge.on_edge[0] = true;
        facets_.push_back({{foot - 1, foot, bar_.nodes[i]}, edge, FacetInput::Wooded::bar});
    }
}

Eigen::Vector3d Shell::middle_m(int node, const ShellSurface& s) const {
    const auto& p = mesh_.points[static_cast<std::size_t>(node)];
    return 1e-3 *
           Eigen::Vector3d(p.x_mm, p.y_mm,
                           s.outside_mm[node] - 0.5 * s.thickness_mm[node] / s.normal_z[node]);
}

FacetInput Shell::facet(std::size_t number, const ShellSurface& s) const {
    const auto& place = facets_[number];
    FacetInput input;
    input.nodes = place.nodes;
    input.edge = place.edge;
    input.wood = place.wood;
    input.drop_m.setZero();
    const int plate_nodes = static_cast<int>(mesh_.points.size());
    for (int c = 0; c < 3; ++c) {
        const int node = place.nodes[static_cast<std::size_t>(c)];
        const bool is_foot = node >= plate_nodes;
        const int above = carrier(node);
        input.corners.col(c) = middle_m(above, s);
        input.thickness_m[c] = 1e-3 * s.thickness_mm[above];
        if (place.wood != FacetInput::Wooded::bar)
            continue;
        input.thickness_m[c] = 1e-3 * bar_.width_mm;
        const double to_inside = -0.5e-3 * s.thickness_mm[above] / s.normal_z[above];
        input.corners(2, c) += to_inside;
        if (is_foot)
            input.corners(2, c) -=
                1e-3 * bar_.height_mm[static_cast<std::size_t>(node - plate_nodes)];
        else
            input.drop_m[c] = to_inside;
    }
    return input;
}

Assembled Shell::assemble(const ShellSurface& surface, const ShellWood& wood) const {
    Assembled shell = pattern_.zero();
    const WoodTable woods(wood);
    for (std::size_t e = 0; e < facets_.size(); ++e) {
        const FacetInput input = facet(e, surface);
        const Facet made = woods.facet(input);
        Matrix18 stiffness = global_stiffness(made);
        if (!input.drop_m.isZero(0.0))
            stiffness = hung(stiffness, input.drop_m);
        for (int a = 0; a < 3; ++a)
            for (int b = 0; b < 3; ++b)
                pattern_.add(shell, input.nodes[static_cast<std::size_t>(a)],
                             input.nodes[static_cast<std::size_t>(b)],
                             stiffness.block<6, 6>(6 * a, 6 * b), made.mass(a, b));
    }
    return shell;
}

Shell::Motions Shell::motions(const ShellSurface& surface) const {
    double span_x = 0.0, low_y = mesh_.points[0].y_mm, high_y = low_y;
    for (const auto& p : mesh_.points) {
        span_x = std::max(span_x, std::abs(p.x_mm));
        low_y = std::min(low_y, p.y_mm);
        high_y = std::max(high_y, p.y_mm);
    }
    const auto nodes = static_cast<Eigen::Index>(node_points_.size());
    const auto plate_nodes = static_cast<Eigen::Index>(mesh_.points.size());
    Motions m{Eigen::MatrixXd::Zero(6 * nodes, 6), Eigen::MatrixXd::Zero(6 * nodes, 9)};
    for (Eigen::Index i = 0; i < nodes; ++i) {
        const auto& p = node_points_[static_cast<std::size_t>(i)];
        const bool is_foot = i >= plate_nodes;
        const auto foot = static_cast<std::size_t>(is_foot ? i - plate_nodes : 0);
        const int above = carrier(static_cast<int>(i));
        Eigen::Vector3d at = middle_m(above, surface);
        at[1] -= 0.5e-3 * (low_y + high_y);
        if (is_foot)
            at[2] -= 0.5e-3 * surface.thickness_mm[above] / surface.normal_z[above] +
                     1e-3 * bar_.height_mm[foot];
        m.rigid.block<3, 3>(6 * i, 0).setIdentity();
        m.rigid.block<3, 3>(6 * i + 3, 3).setIdentity();
        m.rigid.block<3, 3>(6 * i, 3) << 0.0, at[2], -at[1], -at[2], 0.0, at[0], at[1], -at[0], 0.0;
        const double x = p.x_mm / span_x;
        const double y = 2.0 * (p.y_mm - low_y) / (high_y - low_y) - 1.0;
        m.guess.row(6 * i + 2) << x * y, x * x, y * y, x * x * y, x * y * y, y * y * y, x * x * x,
            x * y * y * y, x * x * y * y;
    }
    return m;
}

ShellModes Shell::solve(const ShellSurface& surface, const ShellWood& wood, int count,
                        const Eigen::MatrixXd& start) const {
    const Assembled shell = assemble(surface, wood);
    const Motions known = motions(surface);
    const Eigen::MatrixXd rigid = orthonormal_by_mass(shell.node_mass, known.rigid);
    const ShellFactor factor(pattern_, shell, k_shift);
    const EigenModes modes =
        solve_modes(shell, factor, k_shift, rigid, start.cols() > 0 ? start : known.guess, count);
    ShellModes result;
    result.frequency_hz = frequency_of(modes.lambda);
    result.shapes = modes.shapes;
    result.rigid = rigid;
    result.air_share = Eigen::RowVectorXd::Zero(modes.lambda.size());
    const Eigen::VectorXd strain = rigid.cwiseProduct(shell.stiffness * rigid).colwise().sum();
    result.rigid_hz = std::sqrt(strain.cwiseAbs().maxCoeff()) / (2.0 * std::numbers::pi);
    return result;
}

Eigen::VectorXd Shell::deflect(const ShellSurface& surface, const ShellWood& wood,
                               std::span<const MeshPlace> supports, const MeshPlace& load,
                               double force_n) const {
    constexpr double k_spring_n_m = 1e8; // a plate yields 1e4 N/m or so
    constexpr double k_hold = 10.0;      // (rad/s)^2: holds what moves along the plane
    Assembled shell = assemble(surface, wood);
    for (const auto& support : supports)
        for (std::size_t a = 0; a < 3; ++a)
            for (std::size_t b = 0; b < 3; ++b)
                shell.stiffness.coeffRef(6 * support.nodes[a] + 2, 6 * support.nodes[b] + 2) +=
                    k_spring_n_m * support.weight[static_cast<Eigen::Index>(a)] *
                    support.weight[static_cast<Eigen::Index>(b)];
    const ShellFactor factor(pattern_, shell, k_hold);
    Eigen::MatrixXd u =
        Eigen::MatrixXd::Zero(6 * static_cast<Eigen::Index>(node_points_.size()), 1);
    for (std::size_t a = 0; a < 3; ++a)
        u(6 * load.nodes[a] + 2, 0) += force_n * load.weight[static_cast<Eigen::Index>(a)];
    return factor.solve(u);
}

Shell::Yielding Shell::yield(const ShellSurface& surface, const ShellWood& wood,
                             const Eigen::MatrixXd& loads) const {
    const Assembled shell = assemble(surface, wood);
    const ShellFactor factor(pattern_, shell, k_shift);
    const Eigen::MatrixXd x = factor.solve(loads);
    return {x, shell.stiffness * x, by_mass(shell.node_mass, x)};
}

} // namespace platewright::plate
