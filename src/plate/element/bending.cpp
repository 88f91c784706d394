#include "plate/element/bending.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr double k_shear_factor = 5.0 / 6.0;

using Row9 = Eigen::Matrix<double, 1, 9>;
using Matrix39 = Eigen::Matrix<double, 3, 9>;

// One side of the triangle, from corner i to corner j.
struct EdgeShear {
    int i, j;
    double length, c, s; // direction cosines
    Row9 bulge;          // amplitude of the quadratic rotation along the side
    Row9 shear;          // mean transverse shear along the side
};

// Rotation of the normal along (c, s) at a corner: beta_x = theta_y, beta_y = -theta_x.
void add_rotation(Row9& row, int corner, double c, double s, double factor) {
    row[3 * corner + 1] -= s * factor;
    row[3 * corner + 2] += c * factor;
}

// Bending stiffness along a direction over transverse shear stiffness along it, per h^2 / 12 / k.
double along(const FacetStiffness& wood, double c, double s) {
    const Eigen::Vector3d strain(c * c, s * s, 2.0 * c * s);
    const Eigen::Vector2d direction(c, s);
    return strain.dot(wood.plane * strain);
}

double shear_along(const FacetStiffness& wood, double c, double s) {
    const Eigen::Vector2d direction(c, s);
    return direction.dot(wood.shear * direction);
}

// Mean shear along a side over two thirds of its bulge.
double shear_ratio(const FacetStiffness& wood, double thickness, const EdgeShear& side) {
    const double gc = wood.grain[0], gs = wood.grain[1];
    const double l = std::abs(side.c * gc + side.s * gs); // of the side, along the grain
    const double r = std::abs(side.s * gc - side.c * gs); // and across
    const double bend_l = along(wood, gc, gs), bend_r = along(wood, -gs, gc);
    const double soft_l = bend_l / shear_along(wood, gc, gs);
    const double soft_r = bend_r / shear_along(wood, -gs, gc);
    const double more = std::sqrt(bend_l / bend_r);
    const double ratio = (r * soft_r * more + l * soft_l) / (r * r * r * more + l * l * l);
    return thickness * thickness / k_shear_factor * ratio / (side.length * side.length);
}

EdgeShear make_side(const FlatTriangle& t, int i, const FacetStiffness& wood,
                    const Eigen::Vector3d& thickness, const FacetEdge& edge) {
    const int j = (i + 1) % 3;
    EdgeShear side{};
    side.i = i;
    side.j = j;
    const double dx = t.x[j] - t.x[i], dy = t.y[j] - t.y[i];
    side.length = std::sqrt(dx * dx + dy * dy);
    side.c = dx / side.length;
    side.s = dy / side.length;
    Row9 kirchhoff = Row9::Zero(); // w_j - w_i over L plus mean rotation: shear without a bulge
    kirchhoff[3 * i] = -1.0 / side.length;
    kirchhoff[3 * j] = 1.0 / side.length;
    add_rotation(kirchhoff, i, side.c, side.s, 0.5);
    add_rotation(kirchhoff, j, side.c, side.s, 0.5);
    const double phi = edge.on_edge[static_cast<std::size_t>(i)]
                           ? 0.0
                           : shear_ratio(wood, 0.5 * (thickness[i] + thickness[j]), side);
    side.bulge = -1.5 / (1.0 + phi) * kirchhoff;
    side.shear = phi / (1.0 + phi) * kirchhoff;
    return side;
}

// Transverse shear at the corner where two sides meet.
Eigen::Matrix<double, 2, 9> corner_shear(const EdgeShear& a, const EdgeShear& b) {
    const double det = a.c * b.s - b.c * a.s;
    Eigen::Matrix<double, 2, 9> shear;
    shear.row(0) = (b.s * a.shear - a.s * b.shear) / det;
    shear.row(1) = (a.c * b.shear - b.c * a.shear) / det;
    return shear;
}

// Twisting stiffness that the free edge near the facet lacks, as a part of the plane stiffness.
Eigen::Matrix3d edge_loss(const FacetEdge& edge, double thickness) {
    constexpr double k_lost_width = 0.315;
    constexpr double k_most = 0.7; // of the twist, where several edges are near
    if (edge.per_m <= 0.0)
        return Eigen::Matrix3d::Zero();
    const double lost =
        std::min(k_most, k_lost_width * thickness * edge.per_m *
                             std::sqrt(edge.twist_modulus_pa / edge.across_modulus_pa));
    const double c = edge.along[0], s = edge.along[1];
    const Eigen::Vector3d twist(-2.0 * c * s, 2.0 * c * s, c * c - s * s);
    return lost * edge.twist_modulus_pa * (twist * twist.transpose());
}

} // namespace

Matrix9 bending_stiffness(const FlatTriangle& t, const FacetStiffness& wood,
                          const Eigen::Vector3d& thickness_m, const FacetEdge& edge) {
    const double area = t.area();
    const std::array<EdgeShear, 3> sides{make_side(t, 0, wood, thickness_m, edge),
                                         make_side(t, 1, wood, thickness_m, edge),
                                         make_side(t, 2, wood, thickness_m, edge)};
    // derivatives of the area coordinates
    Eigen::Vector3d lx(t.y[1] - t.y[2], t.y[2] - t.y[0], t.y[0] - t.y[1]);
    Eigen::Vector3d ly(t.x[2] - t.x[1], t.x[0] - t.x[2], t.x[1] - t.x[0]);
    lx /= 2.0 * area;
    ly /= 2.0 * area;
    Matrix39 linear = Matrix39::Zero(); // curvatures of the linear rotations
    for (int i = 0; i < 3; ++i) {
        linear(0, 3 * i + 2) = lx[i];
        linear(1, 3 * i + 1) = -ly[i];
        linear(2, 3 * i + 2) = ly[i];
        linear(2, 3 * i + 1) = -lx[i];
    }
    const std::array<Eigen::Matrix<double, 2, 9>, 3> corners{corner_shear(sides[2], sides[0]),
                                                             corner_shear(sides[0], sides[1]),
                                                             corner_shear(sides[1], sides[2])};
    Matrix9 k = Matrix9::Zero();
    for (int q = 0; q < 3; ++q) { // the middles of the sides, a third of the area each
        const int r = (q + 1) % 3;
        Eigen::Vector3d l = Eigen::Vector3d::Zero();
        l[q] = l[r] = 0.5;
        Matrix39 b = linear;
        for (const auto& side : sides) {
            const double px = 4.0 * (l[side.i] * lx[side.j] + l[side.j] * lx[side.i]);
            const double py = 4.0 * (l[side.i] * ly[side.j] + l[side.j] * ly[side.i]);
            b.row(0) += px * side.c * side.bulge;
            b.row(1) += py * side.s * side.bulge;
            b.row(2) += (py * side.c + px * side.s) * side.bulge;
        }
        const double h = 0.5 * (thickness_m[q] + thickness_m[r]);
        const Eigen::Matrix<double, 2, 9> g =
            0.5 * (corners[static_cast<std::size_t>(q)] + corners[static_cast<std::size_t>(r)]);
        const Eigen::Matrix3d bend =
            area / 3.0 * h * h * h / 12.0 * (wood.plane - edge_loss(edge, h));
        const Eigen::Matrix2d shear = area / 3.0 * k_shear_factor * h * wood.shear;
        const Matrix39 bend_b = bend * b;
        k.noalias() += b.transpose() * bend_b;
        const Eigen::Matrix<double, 2, 9> shear_g = shear * g;
        k.noalias() += g.transpose() * shear_g;
    }
    return k;
}

} // namespace platewright::plate
