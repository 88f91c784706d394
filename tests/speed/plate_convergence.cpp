// How the plate model's frequencies settle as its mesh is refined: the tables of
// docs/plate-model.md and, where a folder is named, its pictures.
//   plate_convergence [FOLDER]
#include "plate/plate_model.hpp"
#include "report/tables/chart_file.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <numbers>
#include <string>

namespace {

using namespace platewright;
using namespace platewright::plate;

// Frequencies on one mesh.
struct Step {
    double nodes = 0.0;
    std::vector<double> hz;
};

// Named modes as everywhere; the others by shape and dash.
std::pair<plot::ModeLook, plot::Dash> look_of(int number) {
    plot::ModeLook look = plot::mode_look(number, plot::paper_palette());
    switch (number) {
    case 3:
        look.shape = plot::Shape::square;
        break;
    case 4:
        look.shape = plot::Shape::cross;
        break;
    case 7:
        look.shape = plot::Shape::square;
        return {look, plot::Dash::dashed};
    case 8:
        look.shape = plot::Shape::cross;
        return {look, plot::Dash::dashed};
    default:
        break;
    }
    return {look, plot::Dash::solid};
}

// How far each mode is off on each mesh, %; modes counted from 1.
void draw(const std::vector<Step>& steps, const std::vector<double>& settled,
          const std::string& title, const std::filesystem::path& file) {
    plot::Chart chart;
    chart.title = title;
    chart.across = {"nodes", 0.9 * steps.front().nodes, 1.1 * steps.back().nodes,
                    plot::Spacing::logarithmic};
    chart.up = {"off, %", 0.0, 0.0};
    for (std::size_t k = 0; k < settled.size(); ++k) {
        const int number = static_cast<int>(k) + 1;
        const auto [look, dash] = look_of(number);
        plot::Curve curve;
        curve.pen = {look.colour, 2.0, dash};
        plot::Marks marks;
        marks.colour = look.colour;
        marks.shape = look.shape;
        marks.name =
            "mode " + std::to_string(number) + (dash == plot::Dash::solid ? "" : ", dashed");
        for (const Step& step : steps) {
            const double off = 100.0 * (step.hz[k] / settled[k] - 1.0);
            curve.points.push_back({step.nodes, off});
            marks.at.push_back({step.nodes, off});
            chart.up.low = std::min(chart.up.low, off);
            chart.up.high = std::max(chart.up.high, off);
        }
        chart.curves.push_back(std::move(curve));
        chart.marks.push_back(std::move(marks));
    }
    plot::widen(chart.up);
    report::write_chart(chart, file, *report::picture_kind(file));
}

void free_square(const std::filesystem::path& folder) {
    // converged Rayleigh-Ritz values, omega a^2 sqrt(rho h / D), nu 0.3 (docs/plate-model.md)
    constexpr std::array exact{13.4682, 19.5961, 24.2702, 34.8009, 34.8009, 61.0932};
    const double g = 10.0 / 2.6, thickness = 0.2e-3, side = 0.2;
    const Wood plain{10, 10, 10, g, g, g, 0.3, 0.3, 0.3, 1000};
    const double rigidity = 10e9 * std::pow(thickness, 3) / 12.0 / 0.91;
    std::vector<Step> steps;
    for (const double step_mm : {20.0, 14.0, 10.0, 7.0, 5.0}) {
        const Shell shell(
            mesh_plan({{{-100, 0}, {100, 0}, {100, 200}, {-100, 200}}, {}, {}}, step_mm));
        const auto n = static_cast<Eigen::Index>(shell.mesh().points.size());
        const auto modes = shell.solve({Eigen::VectorXd::Zero(n), Eigen::VectorXd::Ones(n),
                                        Eigen::VectorXd::Constant(n, 1e3 * thickness)},
                                       {plain, plain}, 6);
        std::printf("free square, %4ld nodes:", static_cast<long>(n));
        Step& at = steps.emplace_back();
        at.nodes = static_cast<double>(n);
        for (std::size_t k = 0; k < exact.size(); ++k) {
            const double found = 2.0 * std::numbers::pi *
                                 modes.frequency_hz[static_cast<Eigen::Index>(k)] * side * side *
                                 std::sqrt(1000.0 * thickness / rigidity);
            at.hz.push_back(found);
            std::printf(" %+6.2f", 100.0 * (found / exact[k] - 1.0));
        }
        std::printf(" %% off\n");
    }
    if (!folder.empty())
        draw(steps, {exact.begin(), exact.end()}, "Free square: off the converged values",
             folder / "convergence-square.png");
}

void violin(bool is_top, const std::filesystem::path& folder) {
    PlateForm form{*make_outline(usual_size(modes::InstrumentKind::violin)), {}, {}, {}, {}};
    if (is_top) {
        form.f_holes = f_hole_loops(usual_f_hole(form.outline.size));
        form.bar = usual_bar(form.outline.size);
    }
    const Wood w = find_species(is_top ? "norway_spruce" : "red_maple")->wood;
    std::vector<Step> steps;
    for (const double fineness : {20.0, 25.0, 35.0, 50.0, 70.0, 100.0}) {
        const PlateModel model(form, fineness);
        const auto h = model.thickness_at([](Point) { return 3.0; });
        const auto modes = model.solve(h, {w, w}, 8);
        steps.push_back({static_cast<double>(model.nodes()),
                         {modes.frequency_hz.begin(), modes.frequency_hz.end()}});
        std::printf("%s, fineness %3.0f, %4zu nodes:", is_top ? "top" : "back", fineness,
                    model.nodes());
        for (const double hz : modes.frequency_hz)
            std::printf(" %7.2f", hz);
        std::printf(" Hz\n");
    }
    const std::string name = is_top ? "top" : "back";
    const std::vector<double> finest = steps.back().hz;
    if (!folder.empty())
        draw(steps, finest, "Violin " + name + ": off the finest mesh",
             folder / ("convergence-" + name + ".png"));
}

} // namespace

int main(int count, char** words) {
    const std::filesystem::path folder = count > 1 ? words[1] : "";
    free_square(folder);
    violin(false, folder);
    violin(true, folder);
}
