#include "plate/plate_model.hpp"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

Shell make_shell(const PlateForm& form, double fineness) {
    if (!(fineness >= 10.0))
        throw std::invalid_argument("PlateModel: fineness must be 10 or more");
    PlanRegion region{form.outline.rim, form.f_holes, {}};
    if (form.bar)
        region.lines.push_back({form.bar->lower, form.bar->upper});
    PlanMesh mesh = mesh_plan(region, form.outline.size.length_mm / fineness);
    ShellBar bar;
    if (form.bar) {
        bar.nodes = mesh.lines.front();
        bar.width_mm = form.bar->width_mm;
        const double last = static_cast<double>(bar.nodes.size() - 1);
        for (std::size_t i = 0; i < bar.nodes.size(); ++i)
            bar.height_mm.push_back(form.bar->height_at(static_cast<double>(i) / last));
    }
    return Shell(std::move(mesh), std::move(bar));
}

} // namespace

PlateModel::PlateModel(const PlateForm& form, double fineness, double air_kg_m3)
    : form_(form), arching_(form.outline, form.arching, form.heights),
      shell_(make_shell(form, fineness)), places_(arching_.at(points())), air_kg_m3_(air_kg_m3) {
    if (air_kg_m3 > 0.0)
        air_.emplace(shell_.mesh());
    const auto n = static_cast<Eigen::Index>(nodes());
    normal_z_.resize(n);
    node_area_mm2_ = Eigen::VectorXd::Zero(n);
    for (Eigen::Index i = 0; i < n; ++i) {
        const Point p = points()[static_cast<std::size_t>(i)];
        normal_z_[i] = arching_.normal_z(p);
    }
    stretch_ = normal_z_.cwiseInverse();
    for (const auto& t : shell_.mesh().triangles) {
        std::array<Point, 3> c{};
        for (std::size_t k = 0; k < 3; ++k)
            c[k] = points()[static_cast<std::size_t>(t[k])];
        for (const int k : t)
            node_area_mm2_[k] += signed_area_mm2(c) / 3.0;
    }
}

Eigen::VectorXd PlateModel::thickness_at(const std::function<double(Point)>& thickness_mm) const {
    Eigen::VectorXd values(static_cast<Eigen::Index>(nodes()));
    for (Eigen::Index i = 0; i < values.size(); ++i)
        values[i] = thickness_mm(points()[static_cast<std::size_t>(i)]);
    return values;
}

ShellSurface PlateModel::surface(const Eigen::VectorXd& thickness_mm, const ArchShift& arch) const {
    if (thickness_mm.size() != normal_z_.size())
        throw std::invalid_argument("PlateModel: thickness must be given at every node");
    return {places_.heights_mm(arch), normal_z_, thickness_mm};
}

ShellWood PlateModel::shell_wood(const PlateWood& wood) const {
    ShellWood all{wood.left, wood.right, wood.left};
    all.bar.lie = {}; // a bar is split, and stands with its rings upright
    if (form_.bar && form_.bar->density_kg_m3) {
        all.bar.density_kg_m3 = *form_.bar->density_kg_m3;
    }
    return all;
}

Eigen::MatrixXd PlateModel::air_kg(const Eigen::MatrixXd& motions) const {
    if (!air_)
        return Eigen::MatrixXd::Zero(motions.cols(), motions.cols());
    const auto n = static_cast<Eigen::Index>(nodes());
    Eigen::MatrixXd z(n, motions.cols());
    for (Eigen::Index i = 0; i < n; ++i)
        z.row(i) = motions.row(6 * i + 2);
    return air_kg_m3_ * air_->moved_m3(z);
}

ShellModes PlateModel::solve(const ShellSurface& surface, const PlateWood& wood, int count,
                             const Eigen::MatrixXd& start) const {
    ShellModes modes = shell_.solve(surface, shell_wood(wood), count, start);
    if (!air_)
        return modes;
    const auto rigid = modes.rigid.cols(), n = modes.frequency_hz.size();
    Eigen::MatrixXd motions(modes.shapes.rows(), rigid + n);
    motions << modes.rigid, modes.shapes;
    const Eigen::MatrixXd air = air_kg(motions);
    Eigen::VectorXd lambda = Eigen::VectorXd::Zero(rigid + n);
    lambda.tail(n) = lambda_of(modes.frequency_hz);
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> ritz(
        lambda.asDiagonal().toDenseMatrix(), Eigen::MatrixXd::Identity(rigid + n, rigid + n) + air);
    const Eigen::MatrixXd mixed = ritz.eigenvectors().rightCols(n);
    modes.frequency_hz = frequency_of(ritz.eigenvalues().tail(n));
    modes.shapes = motions * mixed;
    modes.air_share = mixed.cwiseProduct(air * mixed).colwise().sum();
    return modes;
}

double PlateModel::mass_g(const Eigen::VectorXd& thickness_mm, const PlateWood& wood) const {
    const ShellSurface s = surface(thickness_mm);
    const WoodTable woods(shell_wood(wood));
    double kg = 0.0;
    for (std::size_t e = 0; e < shell_.facets(); ++e)
        kg += woods.mass_kg(shell_.facet(e, s));
    return 1e3 * kg;
}

Eigen::VectorXd PlateModel::wood_g_per_mm(const PlateWood& wood) const {
    const double density_kg_m3 = 0.5 * (wood.left.density_kg_m3 + wood.right.density_kg_m3);
    return 1e-6 * density_kg_m3 * node_area_mm2_.cwiseProduct(stretch_);
}

} // namespace platewright::plate
