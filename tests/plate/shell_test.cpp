#include "plate/plate_model.hpp"
#include "support/catch.hpp"

#include <Eigen/Eigenvalues>

#include <numbers>

using namespace platewright;
using namespace platewright::plate;

namespace {

Wood isotropic(double e_gpa, double nu, double density) {
    const double g = e_gpa / (2.0 * (1.0 + nu));
    return {e_gpa, e_gpa, e_gpa, g, g, g, nu, nu, nu, density};
}

Eigen::Matrix3d sheet(double e, double nu) {
    Eigen::Matrix3d s;
    s << 1.0, nu, 0.0, nu, 1.0, 0.0, 0.0, 0.0, 0.5 * (1.0 - nu);
    return e / (1.0 - nu * nu) * s;
}

PlateForm violin_form(bool with_fittings) {
    PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
    if (with_fittings) {
        form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
        form.bar = usual_bar(form.outline.size);
    }
    return form;
}

} // namespace

TEST_CASE("species of the handbook are physical, and found by their word") {
    for (const auto& species : species_table()) {
        CHECK(is_physical(species.wood));
        CHECK(find_species(species.key).has_value());
    }
    CHECK_FALSE(find_species("oakum").has_value());
    // Wood Handbook table 5-3a (from memory): Sitka 10.8 GPa, gravity .40 at 12 %
    CHECK(find_species("sitka_spruce")->wood.e_l_gpa == Approx(11.88));
    CHECK(find_species("sitka_spruce")->wood.density_kg_m3 == Approx(448.0));
    // frey-amon.at, sycamore: bending modulus 10 GPa at 12 %, 640 kg/m3; timberpolis.co.uk, white
    // poplar: 8.9 GPa in bending and 440 kg/m3. Trees differ by a fifth and a tenth.
    CHECK(find_species("european_maple")->wood.e_l_gpa == Approx(1.1 * 10.0).epsilon(0.2));
    CHECK(find_species("european_maple")->wood.density_kg_m3 == Approx(640.0).epsilon(0.1));
    CHECK(find_species("poplar")->wood.e_l_gpa == Approx(1.1 * 8.9));
    // Wood Handbook table 5-3a (from memory): black willow 7.0 GPa, gravity .39 at 12 %
    CHECK(find_species("willow")->wood.density_kg_m3 == Approx(436.8));
}

TEST_CASE("in its own axes a facet has the plane stress stiffness of orthotropic wood") {
    const Wood w = find_species("sitka_spruce")->wood;
    const auto stiffness = facet_stiffness(compliance_of(w), Eigen::Matrix3d::Identity());
    const double nu_rl = w.nu_lr * w.e_r_gpa / w.e_l_gpa;
    const double rest = 1.0 - w.nu_lr * nu_rl;
    CHECK(stiffness.plane(0, 0) == Approx(1e9 * w.e_r_gpa / rest));
    CHECK(stiffness.plane(1, 1) == Approx(1e9 * w.e_l_gpa / rest));
    CHECK(stiffness.plane(0, 1) == Approx(1e9 * w.nu_lr * w.e_r_gpa / rest));
    CHECK(stiffness.plane(2, 2) == Approx(1e9 * w.g_lr_gpa));
    CHECK(stiffness.shear(0, 0) == Approx(1e9 * w.g_rt_gpa)); // along R, through T
    CHECK(stiffness.shear(1, 1) == Approx(1e9 * w.g_lt_gpa));
}

TEST_CASE("turning an isotropic facet changes nothing, and run-out softens wood along the grain") {
    const double a = 0.3;
    Eigen::Matrix3d axes;
    axes << 1.0, 0.0, 0.0, 0.0, std::cos(a), std::sin(a), 0.0, -std::sin(a), std::cos(a);
    const auto plain = compliance_of(isotropic(10.0, 0.3, 500.0));
    const auto flat = facet_stiffness(plain, Eigen::Matrix3d::Identity());
    CHECK((facet_stiffness(plain, axes).plane - flat.plane).norm() < 1e-9 * flat.plane.norm());
    const Wood w = find_species("sitka_spruce")->wood;
    const auto sloped = facet_stiffness(compliance_of(w), axes);
    // off-axis modulus: 1/E = c^4/EL + s^4/ET + c^2 s^2 (1/GLT - 2 nuLT/EL), a textbook formula
    const double c = std::cos(a), s = std::sin(a);
    const double inverse = c * c * c * c / w.e_l_gpa + s * s * s * s / w.e_t_gpa +
                           c * c * s * s * (1.0 / w.g_lt_gpa - 2.0 * w.nu_lt / w.e_l_gpa);
    const Eigen::Matrix3d compliance = sloped.plane.inverse();
    CHECK(1.0 / compliance(1, 1) == Approx(1e9 / inverse));
}

TEST_CASE("rings that lean and fibres that run out soften wood as the off-axis modulus has it") {
    // 1/E = c^4/E1 + s^4/E2 + c^2 s^2 (1/G12 - 2 nu12/E1), a textbook formula, of R and T for the
    // lean about the grain and of L and T for the run-out.
    const double a = 0.4, c2 = std::cos(a) * std::cos(a), s2 = 1.0 - c2;
    for (const double sign : {-1.0, 1.0}) {
        Wood w = find_species("norway_spruce")->wood;
        w.lie.ring_rad = sign * a;
        const double leaning = c2 * c2 / w.e_r_gpa + s2 * s2 / w.e_t_gpa +
                               c2 * s2 * (1.0 / w.g_rt_gpa - 2.0 * w.nu_rt / w.e_r_gpa);
        CHECK(compliance_of(w)(0, 0) == Approx(1e-9 * leaning));
        CHECK(compliance_of(w)(1, 1) == Approx(1e-9 / w.e_l_gpa)); // along the grain as before
        w.lie = {.ring_rad = 0.0, .run_out_rad = sign * a};
        const double running_out = c2 * c2 / w.e_l_gpa + s2 * s2 / w.e_t_gpa +
                                   c2 * s2 * (1.0 / w.g_lt_gpa - 2.0 * w.nu_lt / w.e_l_gpa);
        CHECK(compliance_of(w)(1, 1) == Approx(1e-9 * running_out));
        CHECK(compliance_of(w)(0, 0) == Approx(1e-9 / w.e_r_gpa));
    }
}

TEST_CASE("the membrane triangle passes the patch test and bends exactly in its plane") {
    const FlatTriangle t{{0.0, 0.9, 0.3}, {0.1, 0.0, 0.8}};
    const Eigen::Matrix3d s = sheet(7.0, 0.25);
    const Matrix9 k = membrane_stiffness(t, s);
    // constant strain with its rotation: energy = area * strain . stiffness . strain
    const Eigen::Vector3d strain(0.4, -0.7, 0.5);
    Eigen::Matrix<double, 9, 1> u;
    for (int i = 0; i < 3; ++i) {
        const double spin = 0.2;
        u[3 * i] = strain[0] * t.x[i] + (0.5 * strain[2] - spin) * t.y[i];
        u[3 * i + 1] = strain[1] * t.y[i] + (0.5 * strain[2] + spin) * t.x[i];
        u[3 * i + 2] = spin;
    }
    CHECK(u.dot(k * u) == Approx(t.area() * strain.dot(s * strain)));
    // a strip of two triangles bent in its plane (Felippa 2003: exact at any aspect ratio)
    for (const double aspect : {1.0, 4.0}) {
        const double e = 5.0, curvature = 0.3;
        const double length = aspect, height = 1.0;
        const std::array<Eigen::Vector2d, 4> p{Eigen::Vector2d(0.0, -0.5 * height),
                                               {length, -0.5 * height},
                                               {length, 0.5 * height},
                                               {0.0, 0.5 * height}};
        double twice_energy = 0.0;
        for (const auto& c : {std::array{0, 1, 2}, std::array{0, 2, 3}}) {
            FlatTriangle half;
            Eigen::Matrix<double, 9, 1> v;
            for (int i = 0; i < 3; ++i) {
                const auto& q = p[static_cast<std::size_t>(c[static_cast<std::size_t>(i)])];
                half.x[i] = q[0];
                half.y[i] = q[1];
                v[3 * i] = -curvature * q[0] * q[1];
                v[3 * i + 1] = 0.5 * curvature * q[0] * q[0];
                v[3 * i + 2] = curvature * q[0];
            }
            twice_energy += v.dot(membrane_stiffness(half, sheet(e, 0.0)) * v);
        }
        const double exact = e * height * height * height / 12.0 * curvature * curvature * length;
        CHECK(twice_energy == Approx(exact).epsilon(0.02));
    }
}

TEST_CASE("a facet has six rigid motions and no others for free") {
    Corners corners;
    corners << 0.0, 0.010, 0.003, 0.0, 0.001, 0.009, 0.0, 0.001, 0.002;
    const Wood w = find_species("sitka_spruce")->wood;
    const Facet facet = make_facet(corners, {0.003, 0.0025, 0.002}, compliance_of(w), 448.0, {});
    const Eigen::VectorXd values =
        Eigen::SelfAdjointEigenSolver<Matrix18>(global_stiffness(facet)).eigenvalues();
    CHECK(values.head(6).cwiseAbs().maxCoeff() < 1e-9 * values[17]);
    CHECK(values[6] > 1e-9 * values[17]);
    // mass: all of it moves when the facet does
    const double area = 0.5 * (corners.col(1) - corners.col(0))
                                  .cross(Eigen::Vector3d(corners.col(2) - corners.col(0)))
                                  .norm();
    CHECK(facet.mass.sum() == Approx(448.0 * area * 0.0025));
}

TEST_CASE("arched plates have six rigid motions at nothing, with and without f-holes and bar") {
    const Wood w = find_species("norway_spruce")->wood;
    for (const bool fitted : {false, true}) {
        const PlateModel model(violin_form(fitted), 30.0);
        const auto h = model.thickness_at([](Point) { return 3.0; });
        const auto modes = model.solve(h, {w, w}, 8);
        CHECK(modes.rigid_hz < 0.01);
        CHECK(modes.frequency_hz[0] > 40.0);
        // defining property: K x = lambda M x and x^T M x = 1
        const auto shell = model.shell().assemble(model.surface(h), model.shell_wood({w, w}));
        const Eigen::MatrixXd kx = shell.stiffness * modes.shapes;
        const Eigen::MatrixXd mx = by_mass(shell.node_mass, modes.shapes);
        const Eigen::VectorXd lambda =
            (2.0 * std::numbers::pi * modes.frequency_hz.array()).square();
        CHECK((modes.shapes.transpose() * mx - Eigen::MatrixXd::Identity(8, 8)).norm() < 1e-8);
        CHECK((modes.shapes.transpose() * kx - Eigen::MatrixXd(lambda.asDiagonal())).norm() <
              1e-5 * lambda[7]);
    }
}

TEST_CASE("mass is density times volume, and a flat plate's frequency goes with its thickness") {
    PlateForm form = violin_form(false);
    form.arching.arch_mm = form.arching.edge_mm = 4.0;
    const PlateModel model(form, 25.0);
    Wood w = isotropic(10.0, 0.3, 600.0);
    w.g_rt_gpa = w.g_lt_gpa = 1e4; // no transverse shear: f is proportional to h exactly
    w.e_t_gpa = 10.0;
    const auto thin = model.thickness_at([](Point) { return 0.1; });
    const double volume_mm3 = 0.1 * model.node_area_mm2().sum();
    CHECK(model.mass_g(thin, {w, w}) == Approx(600e-6 * volume_mm3));
    const auto one = model.solve(thin, {w, w}, 3);
    const auto two = model.solve(2.0 * thin, {w, w}, 3);
    for (int k = 0; k < 3; ++k)
        CHECK(two.frequency_hz[k] / one.frequency_hz[k] == Approx(2.0).epsilon(1e-3));
}

TEST_CASE("the model converges as its mesh is refined") {
    const Wood w = find_species("red_maple")->wood;
    Eigen::MatrixXd found(8, 3);
    int column = 0;
    for (const double fineness : {25.0, 35.0, 50.0}) {
        const PlateModel model(violin_form(false), fineness);
        found.col(column++) =
            model.solve(model.thickness_at([](Point) { return 3.0; }), {w, w}, 8).frequency_hz;
    }
    for (int k = 0; k < 8; ++k) {
        CHECK(found(k, 1) == Approx(found(k, 2)).epsilon(0.006));
        CHECK(found(k, 0) == Approx(found(k, 2)).epsilon(0.015));
    }
}

TEST_CASE("a solve started from near shapes gives the same modes") {
    const Wood w = find_species("red_maple")->wood;
    const PlateModel model(violin_form(false), 25.0);
    const auto h = model.thickness_at([](Point p) { return 3.0 + 0.002 * p.y_mm; });
    const auto cold = model.solve(h, {w, w}, 10);
    const auto near = model.solve(0.97 * h, {w, w}, 10);
    const auto warm = model.solve(h, {w, w}, 10, near.shapes);
    CHECK((warm.frequency_hz - cold.frequency_hz).cwiseAbs().maxCoeff() < 1e-4);
}

TEST_CASE("a two-piece plate of unlike halves is lopsided, and exchanging the halves mirrors it") {
    const PlateModel model(violin_form(false), 25.0);
    const Wood soft = find_species("red_maple")->wood;
    Wood stiff = soft;
    stiff.e_l_gpa *= 1.3;
    stiff.e_r_gpa *= 1.3;
    const auto h = model.thickness_at([](Point) { return 3.0; });
    const auto one = model.solve(h, {soft, stiff}, 6);
    const auto other = model.solve(h, {stiff, soft}, 6);
    const auto low = model.solve(h, {soft, soft}, 6), high = model.solve(h, {stiff, stiff}, 6);
    for (int k = 0; k < 6; ++k) {
        CHECK(one.frequency_hz[k] ==
              Approx(other.frequency_hz[k]).epsilon(3e-3)); // the mesh is not quite symmetric
        CHECK(one.frequency_hz[k] > low.frequency_hz[k]);
        CHECK(one.frequency_hz[k] < high.frequency_hz[k]);
    }
}
