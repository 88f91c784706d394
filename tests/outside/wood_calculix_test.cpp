// Bars and boards of solids by CalculiX (Debian package calculix-ccx), a general-purpose
// finite-element program: what it says they sound like must tell the constants they were made of.
#include "plate/wood/bar.hpp"
#include "plate/wood/board.hpp"
#include "plate_solid.hpp"
#include "support/catch.hpp"

#include <algorithm>
#include <cmath>

using namespace platewright;
using namespace platewright::plate;

namespace {

// CTest reads the words and reports the test as skipped.
bool must_skip() {
    if (outside::has_calculix())
        return false;
    WARN("skipped: ccx is missing (package calculix-ccx)");
    return true;
}

std::vector<double> solid_hz(double across_mm, double along_mm, double thickness_mm,
                             const Wood& wood, double triangle_mm, const std::string& name) {
    outside::Solid solid;
    const double half = 0.5 * across_mm;
    solid.mesh = mesh_plan(
        {{{-half, 0.0}, {half, 0.0}, {half, along_mm}, {-half, along_mm}}, {}, {}}, triangle_mm);
    solid.top_mm = [=](Point) { return 0.5 * thickness_mm; };
    solid.bottom_mm = [=](Point) { return -0.5 * thickness_mm; };
    solid.wood = {wood, wood};
    return outside::solve_solid(solid, 6, std::string(PLATEWRIGHT_BUILD_DIR) + "/calculix/" + name)
        .frequency_hz;
}

double nearest_to(const std::vector<double>& all, double hz) {
    return *std::ranges::min_element(all, {}, [hz](double f) { return std::abs(f - hz); });
}

} // namespace

// ASTM E1876's worked bar of trade-sources section 3: 400 x 40 x 10 mm, 430 kg/m^3, Poisson .37.
TEST_CASE("a bar of solids in CalculiX has the modulus that E1876 reads from its tone") {
    if (must_skip())
        return;
    const double e = 12.823, nu = 0.37, g = e / (2.0 * (1.0 + nu));
    const Wood wood{e, e, e, g, g, g, nu, nu, nu, 430.0};
    const double hz = nearest_to(solid_hz(40.0, 400.0, 10.0, wood, 12.0, "e1876-bar"), 350.0);
    CHECK(e1876_modulus_gpa({400.0, 40.0, 10.0, 68.8}, hz, nu) == Approx(e).epsilon(0.01));
    CHECK(e1876_frequency_hz({400.0, 40.0, 10.0, 68.8}, e, nu) == Approx(hz).epsilon(0.005));
}

TEST_CASE("a spruce bar of solids tells E along the grain, where E1876 alone would read it low") {
    if (must_skip())
        return;
    const Wood wood = find_species("sitka_spruce")->wood;
    const Bar bar{300.0, 25.0, 10.0, 1e-6 * wood.density_kg_m3 * 300.0 * 25.0 * 10.0};
    const double usual = wood_bar_frequency_hz(bar, wood.e_l_gpa, wood.e_l_gpa / wood.g_lt_gpa);
    const double hz = nearest_to(solid_hz(25.0, 300.0, 10.0, wood, 8.0, "spruce-bar"), usual);
    const double read = wood_bar_modulus_gpa(bar, hz, wood.e_l_gpa / wood.g_lt_gpa);
    CHECK(read == Approx(wood.e_l_gpa).epsilon(0.01));
    CHECK(e1876_modulus_gpa(bar, hz, wood.nu_lr) < 0.985 * wood.e_l_gpa);
}

TEST_CASE("a spruce board of solids tells E along and across and the shear") {
    if (must_skip())
        return;
    const Wood wood = find_species("sitka_spruce")->wood;
    const Board board{400.0, 130.0, 4.0, 1e-6 * wood.density_kg_m3 * 400.0 * 130.0 * 4.0};
    const std::vector<double> all = solid_hz(130.0, 400.0, 4.0, wood, 14.0, "spruce-board");
    const Eigen::Vector3d model = board_frequencies_hz(board, wood);
    const BoardTaps taps{nearest_to(all, model[0]), nearest_to(all, model[1]),
                         nearest_to(all, model[2])};
    Wood start = wood;
    start.e_l_gpa *= 0.8;
    start.e_r_gpa *= 1.25;
    start.g_lr_gpa *= 1.2;
    start.g_lt_gpa *= 1.2; // the fit scales the thin shears with G_LR
    start.g_rt_gpa *= 1.2;
    start.e_t_gpa *= 1.25;
    const BoardFit fit = fit_board(board, taps, start);
    REQUIRE(fit.settled);
    CHECK(fit.wood.e_l_gpa == Approx(wood.e_l_gpa).epsilon(0.02));
    CHECK(fit.wood.e_r_gpa == Approx(wood.e_r_gpa).epsilon(0.02));
    CHECK(fit.wood.g_lr_gpa == Approx(wood.g_lr_gpa).epsilon(0.02));
}
