#include "plate/fit/weighed.hpp"

#include <Eigen/Eigenvalues>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace platewright::plate {
namespace {

constexpr double k_same_mode = 0.5; // share of a mode's energy that is still the mode without mass

// The motion of a place in x, y, z: a column a component, to be multiplied by motions of all nodes.
Eigen::MatrixXd pull_at(const PlateModel& model, Point at, Eigen::Index freedoms) {
    const MeshPlace place = locate(model.shell().mesh(), at);
    Eigen::MatrixXd pull = Eigen::MatrixXd::Zero(freedoms, 3);
    for (std::size_t k = 0; k < 3; ++k)
        for (int c = 0; c < 3; ++c)
            pull(6 * place.nodes[k] + c, c) = place.weight[static_cast<Eigen::Index>(k)];
    return pull;
}

// |a|^2 of one motion there.
double weight_at(const PlateModel& model, Point at, const Eigen::VectorXd& shape) {
    const MeshPlace place = locate(model.shell().mesh(), at);
    Eigen::Vector3d a = Eigen::Vector3d::Zero();
    for (std::size_t k = 0; k < 3; ++k)
        a += place.weight[static_cast<Eigen::Index>(k)] * shape.segment<3>(6 * place.nodes[k]);
    return a.squaredNorm();
}

// The modes under one mass, with what is needed of them for the slopes.
struct Solved {
    WeighedMode mode;
    double lambda = 0.0;
    double air_share = 0.0;
    Eigen::VectorXd shape;
};

std::vector<Solved> solve_one(const PlateModel& model, const ShellModes& modes,
                              const LaidMass& mass, const Eigen::MatrixXd& pull,
                              const Shell::Yielding& yielding, Eigen::Index first_column,
                              std::span<const int> indices) {
    const auto rigid = modes.rigid.cols(), n = modes.frequency_hz.size();
    const auto known = rigid + n, all = known + 3;
    Eigen::MatrixXd basis(modes.shapes.rows(), all);
    basis << modes.rigid, modes.shapes, yielding.shapes.middleCols(first_column, 3);
    Eigen::MatrixXd m(all, all), k = Eigen::MatrixXd::Zero(all, all);
    const Eigen::MatrixXd air = model.air_kg(basis);
    m.rightCols(3) = basis.transpose() * yielding.by_mass.middleCols(first_column, 3);
    m.bottomRows(3) = m.rightCols(3).transpose();
    m.topLeftCorner(known, known).setIdentity();
    // the modes given are orthonormal with their air, and so are they to the rigid motions
    m.block(rigid, rigid, n, n) -= air.block(rigid, rigid, n, n);
    m.block(0, rigid, rigid, n) = -air.block(0, rigid, rigid, n);
    m.block(rigid, 0, n, rigid) = -air.block(rigid, 0, n, rigid);
    m += air;
    const Eigen::Matrix3Xd moved = pull.transpose() * basis;
    const double kg = 1e-3 * mass.mass_g;
    m += kg * moved.transpose() * moved;
    k.rightCols(3) = basis.transpose() * yielding.by_stiffness.middleCols(first_column, 3);
    k.bottomRows(3) = k.rightCols(3).transpose();
    k.block(rigid, rigid, n, n) = lambda_of(modes.frequency_hz).asDiagonal();
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> ritz(k, m);
    const Eigen::MatrixXd shared = (m * ritz.eigenvectors()).cwiseAbs2();
    std::vector<Solved> solved;
    for (const int index : indices) {
        Eigen::Index best = 0;
        const double like = shared.row(rigid + index).maxCoeff(&best);
        if (like < k_same_mode)
            continue;
        const Eigen::VectorXd mixed = ritz.eigenvectors().col(best);
        Solved one{{}, ritz.eigenvalues()[best], mixed.dot(air * mixed), basis * mixed};
        one.mode.index = index;
        one.mode.log_ratio = 0.5 * std::log(one.lambda / lambda_of(modes.frequency_hz)[index]);
        one.mode.weight_per_kg = (moved * mixed).squaredNorm();
        for (std::size_t r = 0; r < k_round; ++r) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(r) / k_round;
            const double off_mm = std::numbers::sqrt2 * mass.place_sd_mm;
            const Point there{mass.at.x_mm + off_mm * std::cos(turn),
                              mass.at.y_mm + off_mm * std::sin(turn)};
            one.mode.elsewhere[r] =
                -0.5 * kg * (weight_at(model, there, one.shape) - one.mode.weight_per_kg);
        }
        solved.push_back(std::move(one));
    }
    return solved;
}

void find_slopes(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                 const ArchShift& arch, const PlateWood& wood, std::span<const LaidMass> masses,
                 std::vector<std::vector<Solved>>& all) {
    std::vector<Solved*> list;
    for (auto& of_mass : all)
        for (Solved& one : of_mass)
            list.push_back(&one);
    for (std::size_t first = 0; first < list.size(); first += k_most_motions) {
        const auto count = std::min<std::size_t>(k_most_motions, list.size() - first);
        Eigen::MatrixXd shapes(list[first]->shape.size(), static_cast<Eigen::Index>(count));
        Eigen::RowVectorXd lambda(static_cast<Eigen::Index>(count));
        for (std::size_t k = 0; k < count; ++k) {
            shapes.col(static_cast<Eigen::Index>(k)) = list[first + k]->shape;
            lambda[static_cast<Eigen::Index>(k)] = list[first + k]->lambda;
        }
        const EnergySlopes slopes = energy_slopes(model, thickness_mm, arch, wood, shapes, lambda);
        for (std::size_t k = 0; k < count; ++k) {
            const auto column = static_cast<Eigen::Index>(k);
            WeighedMode& mode = list[first + k]->mode;
            const double per = 0.5 / lambda[column];
            mode.by_wood = per * slopes.wood.col(column);
            mode.by_arch = per * slopes.arch.col(column);
            mode.by_thickness_per_mm = per * slopes.thick_per_mm[column];
        }
    }
    for (std::size_t i = 0; i < all.size(); ++i)
        for (Solved& one : all[i]) // of its modal mass, air and laid mass aren't wood
            one.mode.by_density =
                -0.5 * (1.0 - one.air_share - 1e-3 * masses[i].mass_g * one.mode.weight_per_kg);
}

} // namespace

double weighed_model_sd(int number, double log_ratio, double mass_g, double plate_g) {
    constexpr double k_of_fall = 0.02, k_of_mean_1_2 = 0.005, k_of_mean = 0.07;
    const double mean = 0.5 * mass_g / plate_g; // over the plate, to first order
    return std::hypot(k_of_fall * log_ratio,
                      (number == 1 || number == 2 ? k_of_mean_1_2 : k_of_mean) * mean);
}

std::vector<std::vector<WeighedMode>>
weighed_modes(const PlateModel& model, const Eigen::VectorXd& thickness_mm, const ArchShift& arch,
              const PlateWood& wood, const ShellModes& modes, std::span<const LaidMass> masses,
              std::span<const int> indices, bool with_slopes) {
    const auto freedoms = modes.shapes.rows();
    Eigen::MatrixXd pulls(freedoms, 3 * static_cast<Eigen::Index>(masses.size()));
    for (std::size_t i = 0; i < masses.size(); ++i)
        pulls.middleCols(3 * static_cast<Eigen::Index>(i), 3) =
            pull_at(model, masses[i].at, freedoms);
    const Shell::Yielding yielding =
        model.shell().yield(model.surface(thickness_mm, arch), model.shell_wood(wood), pulls);
    std::vector<std::vector<Solved>> all;
    for (std::size_t i = 0; i < masses.size(); ++i) {
        const auto column = 3 * static_cast<Eigen::Index>(i);
        all.push_back(solve_one(model, modes, masses[i], pulls.middleCols(column, 3), yielding,
                                column, indices));
    }
    if (with_slopes)
        find_slopes(model, thickness_mm, arch, wood, masses, all);
    std::vector<std::vector<WeighedMode>> weighed(all.size());
    for (std::size_t i = 0; i < all.size(); ++i)
        for (Solved& one : all[i])
            weighed[i].push_back(one.mode);
    return weighed;
}

} // namespace platewright::plate
