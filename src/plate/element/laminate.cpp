#include "plate/element/laminate.hpp"

#include <Eigen/Geometry> // turning
#include <Eigen/LU>       // inverse of small matrices

namespace platewright::plate {
namespace {

using Voigt = Eigen::Matrix<double, 6, 1>;

// The global components of a unit stress on the axes p and q.
Voigt unit_stress(const Eigen::Vector3d& p, const Eigen::Vector3d& q, bool shear) {
    const double twice = shear ? 1.0 : 0.5; // p q^T + q p^T counts a normal stress twice
    Voigt s;
    s << 2.0 * p[0] * q[0], 2.0 * p[1] * q[1], 2.0 * p[2] * q[2], p[1] * q[2] + p[2] * q[1],
        p[0] * q[2] + p[2] * q[0], p[0] * q[1] + p[1] * q[0];
    return twice * s;
}

// In the wood's own axes: R, L, T in the place of x, y, z.
Compliance own_compliance(const Wood& w) {
    constexpr double giga = 1e9;
    Compliance s = Compliance::Zero();
    s(0, 0) = 1.0 / (w.e_r_gpa * giga);
    s(1, 1) = 1.0 / (w.e_l_gpa * giga);
    s(2, 2) = 1.0 / (w.e_t_gpa * giga);
    s(0, 1) = s(1, 0) = -w.nu_lr / (w.e_l_gpa * giga);
    s(1, 2) = s(2, 1) = -w.nu_lt / (w.e_l_gpa * giga);
    s(0, 2) = s(2, 0) = -w.nu_rt / (w.e_r_gpa * giga);
    s(3, 3) = 1.0 / (w.g_lt_gpa * giga);
    s(4, 4) = 1.0 / (w.g_rt_gpa * giga);
    s(5, 5) = 1.0 / (w.g_lr_gpa * giga);
    return s;
}

} // namespace

Eigen::Matrix3d axes_of(const GrainLie& lie) {
    const Eigen::Matrix3d leaning =
        Eigen::AngleAxisd(lie.ring_rad, Eigen::Vector3d::UnitY()).toRotationMatrix();
    const Eigen::Matrix3d rising =
        Eigen::AngleAxisd(lie.run_out_rad, Eigen::Vector3d::UnitX()).toRotationMatrix();
    return rising * leaning;
}

Compliance compliance_of(const Wood& wood) {
    const Compliance own = own_compliance(wood);
    if (wood.lie == GrainLie{})
        return own;
    const Eigen::Matrix3d seen = axes_of(wood.lie).transpose(); // the plate's axes in the wood's
    const Eigen::Vector3d x = seen.col(0), y = seen.col(1), z = seen.col(2);
    Compliance stresses;
    stresses << unit_stress(x, x, false), unit_stress(y, y, false), unit_stress(z, z, false),
        unit_stress(y, z, true), unit_stress(x, z, true), unit_stress(x, y, true);
    return stresses.transpose() * own * stresses;
}

FacetStiffness facet_stiffness(const Compliance& compliance, const Eigen::Matrix3d& axes) {
    const Eigen::Vector3d e1 = axes.row(0).transpose();
    const Eigen::Vector3d e2 = axes.row(1).transpose();
    const Eigen::Vector3d n = axes.row(2).transpose();
    Eigen::Matrix<double, 6, 3> in_plane;
    in_plane << unit_stress(e1, e1, false), unit_stress(e2, e2, false), unit_stress(e1, e2, true);
    Eigen::Matrix<double, 6, 2> across;
    across << unit_stress(e1, n, true), unit_stress(e2, n, true);
    const Eigen::Matrix3d plane_compliance = in_plane.transpose() * compliance * in_plane;
    const Eigen::Matrix2d shear_compliance = across.transpose() * compliance * across;
    return {plane_compliance.inverse(), shear_compliance.inverse(),
            Eigen::Vector2d(e1[1], e2[1]).normalized()};
}

double shear_modulus(const Compliance& compliance, const Eigen::Vector3d& first,
                     const Eigen::Vector3d& second) {
    const Voigt stress = unit_stress(first, second, true);
    return 1.0 / stress.dot(compliance * stress);
}

} // namespace platewright::plate
