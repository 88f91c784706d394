// How the plate model's frequencies settle as its mesh is refined: the table of
// docs/plate-model.md.
#include "plate/plate_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace {

using namespace platewright;
using namespace platewright::plate;

void free_square() {
    // converged Rayleigh-Ritz values, omega a^2 sqrt(rho h / D), nu 0.3 (docs/plate-model.md)
    constexpr std::array exact{13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932};
    const double g = 10.0 / 2.6, thickness = 0.2e-3, side = 0.2;
    const Wood plain{10, 10, 10, g, g, g, 0.3, 0.3, 0.3, 1000};
    const double rigidity = 10e9 * std::pow(thickness, 3) / 12.0 / 0.91;
    for (const double step_mm : {20.0, 14.0, 10.0, 7.0, 5.0}) {
        const Shell shell(
            mesh_plan({{{-100, 0}, {100, 0}, {100, 200}, {-100, 200}}, {}, {}}, step_mm));
        const auto n = static_cast<Eigen::Index>(shell.mesh().points.size());
        const auto modes = shell.solve({Eigen::VectorXd::Zero(n), Eigen::VectorXd::Ones(n),
                                        Eigen::VectorXd::Constant(n, 1e3 * thickness)},
                                       {plain, plain}, 6);
        std::printf("free square, %4ld nodes:", static_cast<long>(n));
        for (std::size_t k = 0; k < exact.size(); ++k) {
            const double found = 2.0 * std::numbers::pi *
                                 modes.frequency_hz[static_cast<Eigen::Index>(k)] * side * side *
                                 std::sqrt(1000.0 * thickness / rigidity);
            std::printf(" %+6.2f", 100.0 * (found / exact[k] - 1.0));
        }
        std::printf(" %% off\n");
    }
}

void violin(bool is_top) {
    PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
    if (is_top) {
        form.f_holes = usual_f_hole(form.outline.size);
        form.bar = usual_bar(form.outline.size);
    }
    const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
    for (const double fineness : {20.0, 25.0, 35.0, 50.0, 70.0}) {
        const PlateModel model(form, fineness);
        const auto h = model.thickness_at([](Point) { return 3.0; });
        const auto modes = model.solve(h, {w, w}, 8);
        std::printf("%s, fineness %2.0f, %4zu nodes:", is_top ? "top" : "back", fineness,
                    model.nodes());
        for (const double hz : modes.frequency_hz)
            std::printf(" %7.2f", hz);
        std::printf(" Hz\n");
    }
}

} // namespace

int main() {
    free_square();
    violin(false);
    violin(true);
}
