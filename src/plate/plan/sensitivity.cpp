#include "plate/plan/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

namespace platewright::plate {
namespace {

// Steps of the differences. A facet tilted by 1e-4 mm already strains by more than it had: the
// step must be far below that, and is still far above rounding.
constexpr double k_probe_mm = 1e-7;
constexpr double k_step_wood = 1e-5; // of a logarithm, or rad

void check(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
           const Eigen::MatrixXd& shapes) {
    if (shapes.cols() > k_most_motions)
        throw std::invalid_argument("sensitivity: sixteen modes at most");
    if (thickness_mm.size() != static_cast<Eigen::Index>(model.nodes()) ||
        shapes.rows() < 6 * thickness_mm.size())
        throw std::invalid_argument("sensitivity: thickness or shapes are of another mesh");
}

// x^T (K - lambda M) x of one facet.
MotionValues action(const WoodTable& woods, const FacetInput& input, const FacetMotions& motions,
                    const MotionValues& lambda) {
    const FacetEnergies e = energies_of(woods.facet(input), motions);
    return e.membrane + e.bending - lambda.cwiseProduct(e.kinetic);
}

// Each mesh node that carries a corner, once: two corners of the bar's facets hang under one.
template <class Act>
void for_carriers(const Shell& shell, const FacetInput& input, const Act& act) {
    Triangle carriers{};
    std::transform(input.nodes.begin(), input.nodes.end(), carriers.begin(),
                   [&](int node) { return shell.carrier(node); });
    for (auto node = carriers.begin(); node != carriers.end(); ++node)
        if (std::find(carriers.begin(), node, *node) == node)
            act(*node);
}

// From d lambda to d f: lambda = (2 pi f)^2.
Eigen::MatrixXd to_hz(const Eigen::MatrixXd& of_lambda, const ShellModes& modes) {
    const Eigen::RowVectorXd per =
        (8.0 * std::numbers::pi * std::numbers::pi * modes.frequency_hz.transpose()).cwiseInverse();
    return of_lambda * per.asDiagonal();
}

} // namespace

Eigen::MatrixXd thinning_gradient(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                                  const ArchShift& arch, const PlateWood& wood,
                                  const ShellModes& modes) {
    check(model, thickness_mm, modes.shapes);
    const Shell& shell = model.shell();
    const WoodTable woods(model.shell_wood(wood));
    const MotionValues lambda = lambda_of(modes.frequency_hz).transpose();
    ShellSurface surface = model.surface(thickness_mm, arch);
    Eigen::MatrixXd slope = Eigen::MatrixXd::Zero(thickness_mm.size(), lambda.cols());
    for (std::size_t e = 0; e < shell.facets(); ++e) {
        const FacetInput input = shell.facet(e, surface);
        const FacetMotions motions = facet_motion(input, modes.shapes);
        const MotionValues before = action(woods, input, motions, lambda);
        for_carriers(shell, input, [&](int node) {
            const double kept = surface.thickness_mm[node];
            surface.thickness_mm[node] = kept - k_probe_mm;
            const FacetInput thinned = shell.facet(e, surface);
            const bool is_bar = thinned.wood == FacetInput::Wooded::bar;
            slope.row(node) +=
                (action(woods, thinned, is_bar ? facet_motion(thinned, modes.shapes) : motions,
                        lambda) -
                 before) /
                k_probe_mm;
            surface.thickness_mm[node] = kept;
        });
    }
    return to_hz(slope, modes);
}

Eigen::MatrixXd thinning_map(const PlateModel& model, const Eigen::MatrixXd& gradient) {
    constexpr double k_depth_mm = 0.1, k_patch_mm2 = 1000.0;
    constexpr double k_soft = 0.3; // of the disc's radius: a node in or out is no step
    const double radius_mm = std::sqrt(k_patch_mm2 / std::numbers::pi);
    const Eigen::VectorXd area_mm2 = model.node_area_mm2().cwiseProduct(model.stretch());
    Eigen::MatrixXd map = Eigen::MatrixXd::Zero(gradient.rows(), gradient.cols());
    for (Eigen::Index i = 0; i < map.rows(); ++i) {
        const Point middle = model.points()[static_cast<std::size_t>(i)];
        double within_mm2 = 0.0;
        for (Eigen::Index j = 0; j < map.rows(); ++j) {
            const Point p = model.points()[static_cast<std::size_t>(j)];
            const double apart = std::hypot(p.x_mm - middle.x_mm, p.y_mm - middle.y_mm) / radius_mm;
            if (apart >= 1.0 + k_soft)
                continue;
            const double share = std::min(1.0, 0.5 * (1.0 + k_soft - apart) / k_soft);
            map.row(i) += share * gradient.row(j);
            within_mm2 += share * area_mm2[j];
        }
        map.row(i) *= k_depth_mm * k_patch_mm2 / within_mm2;
    }
    return map;
}

Wood scaled(const Wood& wood, const Eigen::Vector4d& log_factors) {
    Wood w = wood;
    w.e_l_gpa *= std::exp(log_factors[0]);
    w.e_r_gpa *= std::exp(log_factors[1]);
    w.g_lr_gpa *= std::exp(log_factors[2]);
    const double rest = std::exp(log_factors[3]);
    w.g_lt_gpa *= rest;
    w.g_rt_gpa *= rest;
    w.e_t_gpa *= rest;
    return w;
}

PlateWood scaled(const PlateWood& wood, const Eigen::Vector4d& log_factors) {
    PlateWood now = wood;
    now.left = scaled(wood.left, log_factors);
    now.right = scaled(wood.right, log_factors);
    return now;
}

PlateWood changed(const PlateWood& wood, const WoodChange& change) {
    PlateWood now = scaled(wood, Eigen::Vector4d(change.head<4>()));
    const double ring = change[static_cast<int>(WoodUnknown::ring)];
    const double run_out = change[static_cast<int>(WoodUnknown::run_out)];
    now.right.lie.ring_rad += ring;
    now.left.lie.ring_rad += wood.has_mirrored_rings ? -ring : ring;
    now.right.lie.run_out_rad += run_out;
    now.left.lie.run_out_rad += wood.is_book_matched ? -run_out : run_out;
    return now;
}

EnergySlopes energy_slopes(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                           const ArchShift& arch, const PlateWood& wood,
                           const Eigen::MatrixXd& shapes, const Eigen::RowVectorXd& lambdas) {
    check(model, thickness_mm, shapes);
    const MotionValues lambda = lambdas;
    const Shell& shell = model.shell();
    const WoodTable woods(model.shell_wood(wood));
    std::vector<WoodTable> moved;
    for (int k = 0; k < k_wood_unknowns; ++k)
        moved.emplace_back(model.shell_wood(changed(wood, k_step_wood * WoodChange::Unit(k))));
    ShellSurface surface = model.surface(thickness_mm, arch);
    const ShellSurface thicker = model.surface((thickness_mm.array() + k_probe_mm).matrix(), arch);
    Eigen::MatrixXd slope = Eigen::MatrixXd::Zero(k_wood_unknowns + 1, lambda.cols());
    Eigen::MatrixXd by_height = Eigen::MatrixXd::Zero(thickness_mm.size(), lambda.cols());
    MotionValues membrane = MotionValues::Zero(lambda.cols()), strain = membrane;
    for (std::size_t e = 0; e < shell.facets(); ++e) {
        const FacetInput input = shell.facet(e, surface);
        const FacetMotions motions = facet_motion(input, shapes);
        const FacetEnergies energies = energies_of(woods.facet(input), motions);
        membrane += energies.membrane;
        strain += energies.membrane + energies.bending;
        const MotionValues before =
            energies.membrane + energies.bending - lambda.cwiseProduct(energies.kinetic);
        for (int k = 0; k < k_wood_unknowns; ++k)
            slope.row(k) +=
                (action(moved[static_cast<std::size_t>(k)], input, motions, lambda) - before) /
                k_step_wood;
        const FacetInput there = shell.facet(e, thicker);
        slope.row(k_wood_unknowns) +=
            (action(woods, there, facet_motion(there, shapes), lambda) - before) / k_probe_mm;
        for_carriers(shell, input, [&](int node) {
            const double kept = surface.outside_mm[node];
            surface.outside_mm[node] = kept + k_probe_mm;
            by_height.row(node) +=
                (action(woods, shell.facet(e, surface), motions, lambda) - before) / k_probe_mm;
            surface.outside_mm[node] = kept;
        });
    }
    return {slope.topRows(k_wood_unknowns), model.arch_slopes(arch).transpose() * by_height,
            slope.row(k_wood_unknowns), membrane.cwiseQuotient(strain)};
}

FitGradient fit_gradient(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                         const ArchShift& arch, const PlateWood& wood, const ShellModes& modes) {
    const EnergySlopes slopes = energy_slopes(model, thickness_mm, arch, wood, modes.shapes,
                                              lambda_of(modes.frequency_hz).transpose());
    return {to_hz(slopes.wood, modes), to_hz(slopes.arch, modes), to_hz(slopes.thick_per_mm, modes),
            slopes.membrane_share};
}

} // namespace platewright::plate
