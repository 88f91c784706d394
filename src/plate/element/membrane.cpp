#include "plate/element/membrane.hpp"

#include <array>

namespace platewright::plate {
namespace {

using Matrix39 = Eigen::Matrix<double, 3, 9>;

constexpr double k_alpha = 1.5;
constexpr double k_beta_0 = 0.5;
constexpr std::array<double, 9> k_beta{1.0, 2.0, 1.0, 0.0, 1.0, -1.0, -1.0, -1.0, -2.0};

struct Sides {
    double x12, x23, x31, y12, y23, y31; // x12 = x1 - x2
    double l21, l32, l13;                // squared lengths
    explicit Sides(const FlatTriangle& t)
        : x12(t.x[0] - t.x[1]), x23(t.x[1] - t.x[2]), x31(t.x[2] - t.x[0]), y12(t.y[0] - t.y[1]),
          y23(t.y[1] - t.y[2]), y31(t.y[2] - t.y[0]), l21(x12 * x12 + y12 * y12),
          l32(x23 * x23 + y23 * y23), l13(x31 * x31 + y31 * y31) {}
};

// Forces at the corners from a constant stress, twice over the thickness: the basic part.
Eigen::Matrix<double, 9, 3> lumping(const Sides& s) {
    Eigen::Matrix<double, 9, 3> l = Eigen::Matrix<double, 9, 3>::Zero();
    const auto corner = [&](int row, double y_next, double x_next, double y_a, double y_b,
                            double x_a, double x_b) {
        l(row, 0) = y_next;
        l(row, 2) = x_next;
        l(row + 1, 1) = x_next;
        l(row + 1, 2) = y_next;
        l(row + 2, 0) = k_alpha / 6.0 * y_next * (y_a - y_b);
        l(row + 2, 1) = k_alpha / 6.0 * x_next * (x_b - x_a);
        l(row + 2, 2) = k_alpha / 3.0 * (x_b * y_b - x_a * y_a);
    };
    // y13 = -y31, x32 = -x23, x21 = -x12 and so on
    corner(0, s.y23, -s.x23, -s.y31, -s.y12, -s.x31, -s.x12);
    corner(3, s.y31, -s.x31, -s.y12, -s.y23, -s.x12, -s.x23);
    corner(6, s.y12, -s.x12, -s.y23, -s.y31, -s.x23, -s.x31);
    return 0.5 * l;
}

// Natural strains along the three sides to Cartesian strains.
Eigen::Matrix3d natural_to_cartesian(const Sides& s, double area) {
    Eigen::Matrix3d t;
    const double y13 = -s.y31, y21 = -s.y12, y32 = -s.y23;
    const double x13 = -s.x31, x21 = -s.x12, x32 = -s.x23;
    t << s.y23 * y13 * s.l21, s.y31 * y21 * s.l32, s.y12 * y32 * s.l13, //
        s.x23 * x13 * s.l21, s.x31 * x21 * s.l32, s.x12 * x32 * s.l13,  //
        (s.y23 * s.x31 + x32 * y13) * s.l21, (s.y31 * s.x12 + x13 * y21) * s.l32,
        (s.y12 * s.x23 + x21 * y32) * s.l13;
    return t / (4.0 * area * area);
}

// Q1 for pick = {0..8}; Q2 and Q3 take the betas in turned order.
Eigen::Matrix3d strain_of_corner(const Sides& s, double area, const std::array<int, 9>& pick) {
    Eigen::Matrix3d q;
    const std::array<double, 3> l{s.l21, s.l32, s.l13};
    for (int r = 0; r < 3; ++r) {
        for (int c = 0; c < 3; ++c) {
            q(r, c) = k_beta[static_cast<std::size_t>(pick[static_cast<std::size_t>(3 * r + c)])] /
                      l[static_cast<std::size_t>(r)];
        }
    }
    return 2.0 * area / 3.0 * q;
}

Matrix39 hierarchical_rotations(const Sides& s, double area) {
    Matrix39 t;
    for (int r = 0; r < 3; ++r) {
        t.row(r) << -s.x23, -s.y23, 0.0, -s.x31, -s.y31, 0.0, -s.x12, -s.y12, 0.0;
        t(r, 3 * r + 2) = 4.0 * area;
    }
    return t / (4.0 * area);
}

} // namespace

Matrix9 membrane_stiffness(const FlatTriangle& t, const Eigen::Matrix3d& sheet) {
    const double area = t.area();
    const Sides s(t);
    const Eigen::Matrix<double, 9, 3> l = lumping(s);
    Matrix9 k = l * (sheet / area) * l.transpose();

    const Eigen::Matrix3d to_cartesian = natural_to_cartesian(s, area);
    const Eigen::Matrix3d natural = to_cartesian.transpose() * sheet * to_cartesian;
    const Eigen::Matrix3d q1 = strain_of_corner(s, area, {0, 1, 2, 3, 4, 5, 6, 7, 8});
    const Eigen::Matrix3d q2 = strain_of_corner(s, area, {8, 6, 7, 2, 0, 1, 5, 3, 4});
    const Eigen::Matrix3d q3 = strain_of_corner(s, area, {4, 5, 3, 7, 8, 6, 1, 2, 0});
    Eigen::Matrix3d k_theta = Eigen::Matrix3d::Zero();
    for (const Eigen::Matrix3d& q :
         {Eigen::Matrix3d(0.5 * (q1 + q2)), Eigen::Matrix3d(0.5 * (q2 + q3)),
          Eigen::Matrix3d(0.5 * (q3 + q1))}) {
        k_theta += area * (q.transpose() * natural * q);
    }
    const Matrix39 turn = hierarchical_rotations(s, area);
    k += 0.75 * k_beta_0 * (turn.transpose() * k_theta * turn);
    return k;
}

} // namespace platewright::plate
