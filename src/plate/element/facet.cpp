#include "plate/element/facet.hpp"

#include <Eigen/Geometry> // cross

#include <array>

namespace platewright::plate {
namespace {

// Where the freedoms of membrane and bending stand among the 18 of the facet.
constexpr std::array<int, 9> k_membrane{0, 1, 5, 6, 7, 11, 12, 13, 17};
constexpr std::array<int, 9> k_bending{2, 3, 4, 8, 9, 10, 14, 15, 16};

// Share of consistent mass, the rest being lumped: their errors are opposite.
constexpr double k_consistent = 0.5;

Eigen::Matrix3d mass_between(double area, const Eigen::Vector3d& h, double density) {
    Eigen::Matrix3d mass;
    const double sum = h.sum();
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            // integral of l_i l_j h over the triangle, h linear: area/60 times these
            const double consistent = i == j ? 2.0 * (sum + 2.0 * h[i]) : sum + h[i] + h[j];
            mass(i, j) = k_consistent * density * area / 60.0 * consistent;
        }
    for (int i = 0; i < 3; ++i)
        mass(i, i) += (1.0 - k_consistent) * density * area / 12.0 * (sum + h[i]);
    return mass;
}

FacetEdge edge_in_facet(const EdgeShare& share, const Eigen::Matrix3d& axes,
                        const Compliance& compliance) {
    FacetEdge edge;
    edge.on_edge = share.on_edge;
    if (share.per_mm <= 0.0)
        return edge;
    edge.per_m = 1e3 * share.per_mm;
    edge.along =
        (axes.topLeftCorner<2, 2>() * Eigen::Vector2d(share.along_x, share.along_y)).normalized();
    const Eigen::Vector3d along = axes.topRows<2>().transpose() * edge.along;
    const Eigen::Vector3d normal = axes.row(2).transpose();
    edge.twist_modulus_pa = shear_modulus(compliance, along, normal.cross(along));
    edge.across_modulus_pa = shear_modulus(compliance, along, normal);
    return edge;
}

} // namespace

Facet make_facet(const Corners& corners, const Eigen::Vector3d& thickness_m,
                 const Compliance& compliance, double density_kg_m3, const EdgeShare& edge) {
    Facet facet;
    const Eigen::Vector3d side = corners.col(1) - corners.col(0);
    const Eigen::Vector3d other = corners.col(2) - corners.col(0);
    const Eigen::Vector3d normal = side.cross(other);
    const Eigen::Vector3d e1 = side.normalized();
    const Eigen::Vector3d n = normal.normalized();
    facet.axes.row(0) = e1.transpose();
    facet.axes.row(1) = n.cross(e1).transpose();
    facet.axes.row(2) = n.transpose();

    const FlatTriangle flat{{0.0, side.dot(e1), other.dot(e1)},
                            {0.0, 0.0, facet.axes.row(1).dot(other)}};
    const FacetStiffness wood = facet_stiffness(compliance, facet.axes);
    facet.membrane = membrane_stiffness(flat, thickness_m.mean() * wood.plane);
    facet.bending =
        bending_stiffness(flat, wood, thickness_m, edge_in_facet(edge, facet.axes, compliance));
    facet.mass = mass_between(flat.area(), thickness_m, density_kg_m3);
    return facet;
}

Matrix18 global_stiffness(const Facet& facet) {
    Matrix18 local = Matrix18::Zero();
    for (int i = 0; i < 9; ++i)
        for (int j = 0; j < 9; ++j) {
            const auto a = static_cast<std::size_t>(i), b = static_cast<std::size_t>(j);
            local(k_membrane[a], k_membrane[b]) = facet.membrane(i, j);
            local(k_bending[a], k_bending[b]) = facet.bending(i, j);
        }
    Matrix18 global;
    for (int i = 0; i < 6; ++i)
        for (int j = 0; j <= i; ++j) {
            const Eigen::Matrix3d block =
                facet.axes.transpose() * (local.block<3, 3>(3 * i, 3 * j) * facet.axes);
            global.block<3, 3>(3 * i, 3 * j) = block;
            global.block<3, 3>(3 * j, 3 * i) = block.transpose();
        }
    return global;
}

FacetEnergies energies_of(const Facet& facet, const FacetMotions& motion) {
    using Part = Eigen::Matrix<double, 9, Eigen::Dynamic, Eigen::ColMajor, 9, k_most_motions>;
    using Three = Eigen::Matrix<double, 3, Eigen::Dynamic, Eigen::ColMajor, 3, k_most_motions>;
    const auto columns = motion.cols();
    Part in_plane(9, columns), out_of_plane(9, columns), shifts(9, columns);
    for (int corner = 0; corner < 3; ++corner) {
        const Three shift = facet.axes * motion.middleRows<3>(6 * corner);
        const Three turn = facet.axes * motion.middleRows<3>(6 * corner + 3);
        in_plane.middleRows<2>(3 * corner) = shift.topRows<2>();
        in_plane.row(3 * corner + 2) = turn.row(2);
        out_of_plane.row(3 * corner) = shift.row(2);
        out_of_plane.middleRows<2>(3 * corner + 1) = turn.topRows<2>();
        shifts.middleRows<3>(3 * corner) = shift;
    }
    FacetEnergies energies;
    energies.kinetic = MotionValues::Zero(columns);
    for (int a = 0; a < 3; ++a)
        for (int b = 0; b < 3; ++b)
            energies.kinetic += facet.mass(a, b) * shifts.middleRows<3>(3 * a)
                                                       .cwiseProduct(shifts.middleRows<3>(3 * b))
                                                       .colwise()
                                                       .sum();
    const Part membrane = facet.membrane.lazyProduct(in_plane);
    const Part bending = facet.bending.lazyProduct(out_of_plane);
    energies.membrane = in_plane.cwiseProduct(membrane).colwise().sum();
    energies.bending = out_of_plane.cwiseProduct(bending).colwise().sum();
    return energies;
}

} // namespace platewright::plate
