#pragma once
/// In-plane stiffness of a flat triangle with drilling rotations.

#include <Eigen/Core>

namespace platewright::plate {

/// A flat triangle in its own axes: corners (m), counter-clockwise.
struct FlatTriangle {
    Eigen::Vector3d x;
    Eigen::Vector3d y;
    double area() const {
        return 0.5 * ((x[1] - x[0]) * (y[2] - y[0]) - (x[2] - x[0]) * (y[1] - y[0]));
    }
};

using Matrix9 = Eigen::Matrix<double, 9, 9>;

/// Stiffness (N/m) of the optimal membrane triangle: C. A. Felippa, Comput. Methods Appl. Mech.
/// Eng. 192 (2003) 2125: alpha_b 3/2, beta_0 1/2, beta_1..9 = 1 2 1 0 1 -1 -1 -1 -2 (from memory;
/// held by the patch test and by exact in-plane bending in tests/plate/membrane_test.cpp).
/// In: stiffness of the sheet, force per length (N/m). Order of freedoms: u v theta a corner.
Matrix9 membrane_stiffness(const FlatTriangle& t, const Eigen::Matrix3d& sheet);

} // namespace platewright::plate
