// The shell model against published and closed-form values of flat plates and bars.
#include "plate/shell/shell.hpp"
#include "support/catch.hpp"

#include <cmath>
#include <numbers>

using namespace platewright::plate;

namespace {

constexpr double k_pi = std::numbers::pi;

Wood isotropic(double nu) {
    const double e = 10.0, g = e / (2.0 * (1.0 + nu));
    return {e, e, e, g, g, g, nu, nu, nu, 1000.0};
}

// Constants of trade-sources section 3 with transverse shear made stiff, as thin-plate theory has
// it.
Wood thin_theory(double e_l, double e_r, double g_lr, double nu_lr, double density) {
    return {e_l, e_r, e_r, g_lr, 1e3, 1e3, nu_lr, 0.3, 0.3, density};
}

Eigen::VectorXd flat_plate_hz(const Loop& rim, double thickness_mm, const Wood& wood,
                              double triangle_mm, int count) {
    const Shell shell(mesh_plan({rim, {}, {}}, triangle_mm));
    const auto n = static_cast<Eigen::Index>(shell.mesh().points.size());
    const ShellSurface surface{Eigen::VectorXd::Zero(n), Eigen::VectorXd::Ones(n),
                               Eigen::VectorXd::Constant(n, thickness_mm)};
    const auto modes = shell.solve(surface, {wood, wood}, count);
    CHECK(modes.rigid_hz < 0.01);
    return modes.frequency_hz;
}

Loop rectangle(double a_mm, double b_mm) {
    return {{-0.5 * a_mm, 0.0}, {0.5 * a_mm, 0.0}, {0.5 * a_mm, b_mm}, {-0.5 * a_mm, b_mm}};
}

// omega a^2 sqrt(rho h / D) of a plate 0.2 mm thick: thin enough for the thin theory.
double parameter(double hz, double a_mm, double nu) {
    constexpr double h = 0.2e-3;
    const double rigidity = 10e9 * h * h * h / 12.0 / (1.0 - nu * nu);
    return 2.0 * k_pi * hz * a_mm * a_mm * 1e-6 * std::sqrt(1000.0 * h / rigidity);
}

struct FreeRectangle {
    double a_over_b;
    std::vector<double> converged; // Rayleigh-Ritz, degree 13, computed for trade-sources section 3
    std::vector<double> leissa;    // upper bounds
};

} // namespace

// A. W. Leissa, Journal of Sound and Vibration 31 (1973) 257: completely free plates, nu 0.3, 36
// terms, upper bounds, as remembered; converged values computed by Rayleigh-Ritz.
TEST_CASE("free isotropic rectangles of five aspects have the published eigenvalues") {
    const std::vector<FreeRectangle> table{
        {1.0,
         {13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932},
         {13.489, 19.789, 24.432, 35.024, 35.024, 61.526}},
        {2.0 / 3.0,
         {8.9313, 9.5170, 20.5987, 22.1822, 25.6504, 29.7910},
         {8.9459, 9.6015, 20.735, 22.353, 25.867, 29.973}},
        {0.4,
         {3.4326, 5.2782, 9.5406, 11.3285, 18.627, 18.923},
         {3.4629, 5.2881, 9.6220, 11.437, 18.793, 19.100}},
        {1.5, {20.0955, 21.4133, 46.347, 49.910, 57.714, 67.030}, {}},
        {2.5, {21.454, 32.989, 59.629, 70.803, 116.42, 118.27}, {}}};
    for (const auto& plate : table) {
        const double a_mm = 200.0 * std::sqrt(plate.a_over_b),
                     b_mm = 200.0 / std::sqrt(plate.a_over_b);
        const auto hz = flat_plate_hz(rectangle(a_mm, b_mm), 0.2, isotropic(0.3), 5.0, 6);
        for (std::size_t k = 0; k < 6; ++k) {
            const double found = parameter(hz[static_cast<Eigen::Index>(k)], a_mm, 0.3);
            INFO("a/b " << plate.a_over_b << ", mode " << k + 1);
            CHECK(found == Approx(plate.converged[k]).epsilon(0.005));
            if (!plate.leissa.empty()) {
                CHECK(found < plate.leissa[k]);
            }
        }
    }
}

TEST_CASE("refinement converges to the free square's values") {
    const std::array<double, 6> exact{13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932};
    double before = 1.0;
    for (const double step_mm : {20.0, 10.0, 5.0}) {
        const auto hz = flat_plate_hz(rectangle(200.0, 200.0), 0.2, isotropic(0.3), step_mm, 6);
        double worst = 0.0;
        for (std::size_t k = 0; k < 6; ++k)
            worst = std::max(
                worst,
                std::abs(parameter(hz[static_cast<Eigen::Index>(k)], 200.0, 0.3) / exact[k] - 1.0));
        INFO("worst error " << worst << " at " << step_mm << " mm");
        CHECK(worst < 0.5 * before);
        before = worst;
    }
    CHECK(before < 0.002);
}

// Free circular plate, omega R^2 sqrt(rho h / D): computed from Bessel functions for trade-sources
// section 3; NASA SP-160 (Leissa) prints 5.253, 9.084, 12.23, 20.52 for nu .33, from memory.
TEST_CASE(
    "a free circular plate has the exact eigenvalues, twice where its shape has a direction") {
    for (const auto& [nu, exact] :
         {std::pair{0.30, std::array{5.3583, 5.3583, 9.0031, 12.4390, 12.4390, 20.4746, 20.4746,
                                     21.8352, 21.8352}},
          std::pair{0.33, std::array{5.2620, 5.2620, 9.0689, 12.2439, 12.2439, 20.5131, 20.5131,
                                     21.5272, 21.5272}}}) {
        Loop rim;
        for (int k = 0; k < 360; ++k)
            rim.push_back({100.0 * std::cos(k_pi * k / 180.0), 100.0 * std::sin(k_pi * k / 180.0)});
        const auto hz = flat_plate_hz(rim, 0.2, isotropic(nu), 4.5, 9);
        for (std::size_t k = 0; k < exact.size(); ++k) {
            INFO("nu " << nu << ", mode " << k + 1);
            CHECK(parameter(hz[static_cast<Eigen::Index>(k)], 100.0, nu) ==
                  Approx(exact[k]).epsilon(0.005));
        }
    }
}

// f = lambda^2 / 2 pi * h / L^2 * sqrt(E / 12 rho), lambda^2 = 22.3733, 61.6728, 120.9034 (closed
// form); grain along the bar, so it is E_L that counts.
TEST_CASE("a slender free bar of spruce has the closed form's frequencies") {
    Wood wood{11.88, .927, .511, .760, .725, .0356, .372, .467, .435, 448};
    const double length = 0.4, h = 1.0e-3;
    const auto hz = flat_plate_hz(rectangle(8.0, 400.0), 1e3 * h, wood, 4.0, 6);
    int found = 0;
    for (const double lambda_squared : {22.3733, 61.6728, 120.9034}) {
        const double exact = lambda_squared / (2.0 * k_pi) * h / (length * length) *
                             std::sqrt(wood.e_l_gpa * 1e9 / 12.0 / wood.density_kg_m3);
        for (Eigen::Index k = 0; k < hz.size(); ++k)
            found += std::abs(hz[k] / exact - 1.0) < 0.005 ? 1 : 0; // sideways modes lie elsewhere
    }
    CHECK(found == 3);
}

// ASTM E1876 (formula from memory, constants checked in trade-sources section 3): L 400, b 40,
// t 10 mm, 430 kg/m^3, f 350 Hz, Poisson .37 gives E 12.823 GPa, T1 1.00468: shear and rotary
// inertia of a bar one fortieth as thick as long.
TEST_CASE("the standard's bar of 350 Hz is found with its correction for shear") {
    const double e = 12.823, nu = 0.37, g = e / (2.0 * (1.0 + nu));
    const Wood wood{e, e, e, g, g, g, nu, nu, nu, 430.0};
    const auto hz = flat_plate_hz(rectangle(40.0, 400.0), 10.0, wood, 8.0, 3);
    double nearest = 1e9;
    for (Eigen::Index k = 0; k < hz.size(); ++k)
        nearest = std::min(nearest, std::abs(hz[k] - 350.0));
    CHECK(nearest < 0.005 * 350.0);
}

// Orthotropic rectangles 300 (L) x 150 (R) x 3 mm of handbook wood by thin-plate theory, computed
// by Rayleigh-Ritz for trade-sources section 3; Wood Handbook FPL-GTR-190 constants (table 5-3a
// from memory). Poisson's ratios are the handbook's nu_LR.
TEST_CASE("orthotropic rectangles of handbook wood have the computed frequencies") {
    struct Case {
        Wood wood;
        std::vector<double> hz;
    };
    const std::vector<Case> cases{
        {thin_theory(11.880, .927, .760, .372, 448),
         {91.83, 174.99, 199.71, 255.73, 270.16, 459.29}},
        {thin_theory(9.790, 1.253, 1.214, .422, 392), {122.53, 170.77, 248.31, 301.20, 347.52}},
        {thin_theory(13.860, 1.830, 1.538, .424, 706), {103.21, 151.47, 223.67, 258.35, 303.05}}};
    for (const auto& plate : cases) {
        const auto hz = flat_plate_hz(rectangle(150.0, 300.0), 3.0, plate.wood, 5.0, 6);
        for (std::size_t k = 0; k < plate.hz.size(); ++k)
            CHECK(hz[static_cast<Eigen::Index>(k)] == Approx(plate.hz[k]).epsilon(0.005));
    }
}
