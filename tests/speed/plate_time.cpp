// How long the plate model takes on one core: a solve with sensitivity maps for ten modes, a fit
// and a plan; and, where ccx is installed, CalculiX's run of the same plate beside it.
#include "outside/plate_solid.hpp"
#include "plate/plan/plan.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <vector>

namespace {

using namespace platewright;
using namespace platewright::plate;

double thread_ms() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

template <class Work>
double median_ms(Work work) {
    std::vector<double> times;
    for (int k = 0; k < 9; ++k) {
        const double start = thread_ms();
        work();
        times.push_back(thread_ms() - start);
    }
    std::sort(times.begin(), times.end());
    return times[times.size() / 2];
}

double graduation(Point p, bool is_top) {
    const double x = p.x_mm / 103.5, y = p.y_mm / 177.5 - 1.0;
    return 2.8 + (is_top ? 0.4 : 1.7) * std::exp(-2.2 * y * y - 2.5 * x * x);
}

double time_calculix(const PlateModel& model, const PlateForm& form, const Wood& wood) {
    outside::Solid solid;
    solid.mesh = mesh_plan({form.outline.rim, {}, {}}, 14.0);
    solid.top_mm = [&](Point p) { return model.arching().height_mm(p); };
    solid.bottom_mm = [&](Point p) {
        return model.arching().height_mm(p) - graduation(p, false) / model.arching().normal_z(p);
    };
    solid.wood = {wood, wood};
    return 1e3 * outside::solve_solid(
                     solid, 10,
                     (std::filesystem::temp_directory_path() / "platewright-plate-time").string())
                     .seconds;
}

} // namespace

int main() {
    for (const bool is_top : {false, true}) {
        PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
        if (is_top) {
            form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
            form.bar = usual_bar(form.outline.size);
        }
        const double made = thread_ms();
        const PlateModel model(form);
        const double making = thread_ms() - made;
        const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
        const PlateWood wood{w, w};
        const auto h = model.thickness_at([&](Point p) { return graduation(p, is_top); });
        ShellModes modes;
        const double solving = median_ms([&] { modes = model.solve(h, wood, 10); });
        const double maps =
            median_ms([&] { (void)thinning_gradient(model, h, ArchShift::Zero(), wood, modes); });
        const auto names = ShapeJudge(model).names(modes.shapes);
        FitSession session{h, model.mass_g(h, wood), {}};
        std::vector<PlanTarget> targets;
        for (const int n : {1, 2, 5}) {
            const double hz = modes.frequency_hz[mode_index(names, n)];
            session.modes.push_back({n, 1.01 * hz, 0.2});
            targets.push_back({n, hz, n == 1 ? hz : hz - 2.0 * n, n == 1 ? 0.02 : 1.0});
        }
        PlateFit fit;
        const double fitting =
            median_ms([&] { fit = fit_wood(model, wood, std::span(&session, 1)); });
        Plan plan;
        const double planning = median_ms([&] { plan = make_plan(model, fit, h, targets); });
        std::printf("%s, %zu nodes: made once %.0f ms; solve %.1f + maps %.1f = %.1f ms; "
                    "fit of one session %.0f ms; plan (%d solves) %.0f ms\n",
                    is_top ? "top with f-holes and bar" : "back", model.nodes(), making, solving,
                    maps, solving + maps, fitting, plan.solves, planning);
        if (!is_top && outside::has_calculix()) {
            const double ccx = time_calculix(model, form, w);
            std::printf(
                "CalculiX, the same back in solids: %.0f ms, %.0f times a solve with maps\n", ccx,
                ccx / (solving + maps));
        }
    }
}
