// One facet that bends, against closed forms: a discrete Kirchhoff-Mindlin triangle has any even
// curvature exactly (I. Katili, Int. J. Num. Meth. Eng. 36, 1993), and where it is stubby it
// shears.
#include "plate/element/bending.hpp"
#include "support/catch.hpp"

#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

using Vector9 = Eigen::Matrix<double, 9, 1>;

FacetStiffness some_wood() {
    return facet_stiffness(compliance_of(find_species("sitka_spruce")->wood),
                           Eigen::Matrix3d::Identity());
}

FlatTriangle triangle_at(double x, double y, double size = 0.01) {
    return {{x, x + 0.9 * size, x + 0.3 * size}, {y, y + 0.1 * size, y + 0.8 * size}};
}

/// w = -(a x^2 + b y^2 + c x y) / 2 with the rotations of its slopes: curvatures a, b, c.
Vector9 bent(const FlatTriangle& t, const Eigen::Vector3d& curvature) {
    Vector9 u;
    for (int i = 0; i < 3; ++i) {
        const double x = t.x[i], y = t.y[i];
        const double a = curvature[0], b = curvature[1], c = curvature[2];
        u.segment<3>(3 * i) << -0.5 * (a * x * x + b * y * y + c * x * y), -(b * y + 0.5 * c * x),
            a * x + 0.5 * c * y;
    }
    return u;
}

double twice_energy(const Matrix9& k, const Vector9& u) { return u.dot(k * u); }

const std::array<Eigen::Vector3d, 4> k_curvatures{
    Eigen::Vector3d(1, 0, 0), {0, 1, 0}, {0, 0, 1}, {0.4, -0.7, 0.5}};

} // namespace

TEST_CASE("wherever a facet lies and however it is bent, its energy is the bent plate's") {
    const FacetStiffness wood = some_wood();
    for (const auto& t : {triangle_at(0, 0), triangle_at(0.07, -0.03)})
        for (const auto& curvature : k_curvatures) {
            // h^3 of linear thickness, by the middles of the sides (Strang and Fix's rule)
            const Eigen::Vector3d h(0.002, 0.003, 0.0026);
            double cubes = 0;
            for (int i = 0; i < 3; ++i)
                cubes += std::pow(0.5 * (h[i] + h[(i + 1) % 3]), 3) / 3;
            const Matrix9 k = bending_stiffness(t, wood, h, {});
            CAPTURE(t.x[0], curvature.transpose());
            CHECK(twice_energy(k, bent(t, curvature)) ==
                  Approx(t.area() * cubes / 12 * curvature.dot(wood.plane * curvature)));
        }
}

TEST_CASE("a facet far thicker than it is wide gives way by transverse shear, along grain and "
          "across") {
    const FacetStiffness wood = some_wood();
    const FlatTriangle t = triangle_at(0.02, 0.05, 1e-4);
    const double h = 0.01;
    const Matrix9 k = bending_stiffness(t, wood, Eigen::Vector3d::Constant(h), {});
    for (const auto& shear :
         {Eigen::Vector2d(1, 0), Eigen::Vector2d(0, 1), Eigen::Vector2d(1, -2)}) {
        Vector9 u = Vector9::Zero(); // w = shear . (x, y), and nothing turns
        for (int i = 0; i < 3; ++i)
            u[3 * i] = shear[0] * t.x[i] + shear[1] * t.y[i];
        CHECK(twice_energy(k, u) ==
              Approx(5.0 / 6.0 * h * t.area() * shear.dot(wood.shear * shear)).epsilon(0.01));
    }
}

TEST_CASE("a free edge takes off twist along it what Saint-Venant's bar loses, and no bending") {
    const FacetStiffness wood = some_wood();
    const FlatTriangle t = triangle_at(0.02, 0.05);
    const double h = 0.003;
    const auto energy = [&](const FacetEdge& edge, const Eigen::Vector3d& curvature) {
        return twice_energy(bending_stiffness(t, wood, Eigen::Vector3d::Constant(h), edge),
                            bent(t, curvature));
    };
    FacetEdge edge{.per_m = 100.0, .twist_modulus_pa = 0.7e9, .across_modulus_pa = 0.05e9};
    // A bar of width b twists as one of width b - 0.630 h sqrt(G_edge / G_through) by two edges.
    const double lost = 0.315 * h * edge.per_m * std::sqrt(0.7 / 0.05);
    for (const double angle : {0.0, 0.6}) {
        const double c = std::cos(angle), s = std::sin(angle);
        edge.along = {c, s};
        // Curvature tensors in the edge's axes, turned into the facet's.
        const Eigen::Vector3d twist(-c * s, c * s, c * c - s * s), along(c * c, s * s, 2 * c * s),
            across(s * s, c * c, -2 * c * s);
        const auto taken = [&](const Eigen::Vector3d& curvature) {
            return energy({}, curvature) - energy(edge, curvature);
        };
        const double all = t.area() * h * h * h / 12 * edge.twist_modulus_pa;
        CHECK(taken(twist) == Approx(lost * all));
        CHECK(taken(along) == Approx(0.0).margin(1e-6 * all));
        CHECK(taken(across) == Approx(0.0).margin(1e-6 * all));
    }
    edge.along = {1.0, 0.0};
    edge.per_m = 1000.0; // several edges near: some of the twist stays
    CHECK(energy(edge, {0, 0, 1}) > 0.2 * energy({}, {0, 0, 1}));
    CHECK(energy(edge, {0, 0, 1}) < 0.5 * energy({}, {0, 0, 1}));
}
