#pragma once
/// What taking wood off at each place does to each mode, and what the wood's constants do.

#include "plate/plate_model.hpp"

namespace platewright::plate {

/// Derivatives of frequency with respect to wood taken off the INSIDE at each node of the mesh (a
/// hat-shaped removal, 1 at the node and 0 at its neighbours). The outside stays, so the middle
/// surface moves outwards by half of what is taken: that shape term is in.
/// d lambda = x^T (dK - lambda dM) x for mass-normalised x (R. L. Fox, M. P. Kapoor, AIAA J. 6,
/// 1968); dK and dM by differences facet by facet (semi-analytic).
/// In: modes of this very plate, sixteen at most. Out: Hz per mm, a row a node, a column a mode.
/// Cost: about 20 ms for 650 nodes and ten modes. Threads: pure.
Eigen::MatrixXd thinning_gradient(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                                  const ArchShift& arch, const PlateWood& wood,
                                  const ShellModes& modes);

/// For the eye: Hz for 0.1 mm off the 10 cm^2 round a place; at the edge as much wood off less.
Eigen::MatrixXd thinning_map(const PlateModel& model, const Eigen::MatrixXd& gradient);

/// The wood with a factor exp(log_factor) on each of its constants: E_L, E_R, G_LR, and the
/// transverse shears G_LT, G_RT with E_T together.
Wood scaled(const Wood& wood, const Eigen::Vector4d& log_factors);
PlateWood scaled(const PlateWood& wood, const Eigen::Vector4d& log_factors);

/// What a fit may change of the wood: its constants, all by their logarithm as in `scaled`, and how
/// it lies (GrainLie, of the right half; PlateWood says what the left does).
enum class WoodUnknown { e_l, e_r, g_lr, rest, ring, run_out };
inline constexpr int k_wood_unknowns = 6;
using WoodChange = Eigen::Matrix<double, k_wood_unknowns, 1>;
PlateWood changed(const PlateWood& wood, const WoodChange& change);

/// Derivatives of frequency with respect to what a fit may change.
struct FitGradient {
    Eigen::MatrixXd wood_hz;            // a row a WoodUnknown, a column a mode
    Eigen::MatrixXd arch_hz;            // a row an unknown of the arch, thickness kept
    Eigen::RowVectorXd thick_hz_per_mm; // thickness everywhere, outside kept
    Eigen::RowVectorXd membrane_share;  // of the mode's strain energy
};
/// thinning: the result of thinning_gradient. Cost: about 30 ms.
FitGradient fit_gradient(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                         const ArchShift& arch, const PlateWood& wood, const ShellModes& modes);

/// What fit_gradient and flexes are made of: x^T (dK - lambda dM) x for each column x of shapes.
struct EnergySlopes {
    Eigen::MatrixXd wood; // a row a WoodUnknown
    Eigen::MatrixXd arch; // a row an unknown of the arch
    Eigen::RowVectorXd thick_per_mm;
    Eigen::RowVectorXd membrane_share;
};
EnergySlopes energy_slopes(const PlateModel& model, const Eigen::VectorXd& thickness_mm,
                           const ArchShift& arch, const PlateWood& wood,
                           const Eigen::MatrixXd& shapes, const Eigen::RowVectorXd& lambda);

} // namespace platewright::plate
