#pragma once
/// The three lowest vibrations of a flat, free, rectangular board of quarter-cut wood, and the
/// constants they tell.

#include "plate/wood/wood.hpp"

#include <Eigen/Core>

#include <optional>

namespace platewright::plate {

struct Board {
    double along_mm = 0.0;  ///< extent along the grain
    double across_mm = 0.0; ///< extent across it
    double thickness_mm = 0.0;
    double mass_g = 0.0;

    double density_kg_m3() const;
};

/// Frequencies in Hz; nothing: not known. Where the two bending motions mix into an X and a ring,
/// `along` stands for the upper of the two where it would be the higher unmixed, else the lower.
struct BoardTaps {
    std::optional<double> along_hz, across_hz, twist_hz;
};

/// Constants in GPa, as far as the taps tell them.
struct BoardConstants {
    std::optional<double> e_l_gpa, e_r_gpa, g_lr_gpa;
};

/// E_L = 0.9464 rho f^2 a^4 / h^2, E_R with width and f across, G_LR = 0.822 rho f^2 a^2 b^2 / h^2.
/// Source: M. E. McIntyre and J. Woodhouse, Acta Metallurgica 36 (1988) 1397
/// (docs/sources.md#mcintyre-woodhouse). The simple forms: G comes out 8 to 11 % low, and the
/// bending ones fail where length and width are such that both would sound alike (is_mixed).
/// fit_board does better.
BoardConstants simple_board_constants(const Board& board, const BoardTaps& taps);

/// Whether the two bending motions lie so near one another (within 25 %) that they mix.
bool is_mixed(const Board& board, const Wood& wood);

/// The same three frequencies by the shell model, transverse shear included: along, across, twist;
/// 0 where a motion is not among the lowest twelve modes (a lath). Cost: some 50 ms.
Eigen::Vector3d board_frequencies_hz(const Board& board, const Wood& wood);

/// E_L, E_R and G_LR that give the board the tapped frequencies, from the simple forms on by
/// a chord method on the shell model; what was not tapped keeps the start's. The other constants
/// keep their ratio to these as in `start`.
struct BoardFit {
    bool settled = false;
    Wood wood;
    /// d ln(E_L, E_R, G_LR) by d ln f (along, across, twist): how an error of a tap goes on. Rows
    /// and columns of what was not tapped are 0.
    Eigen::Matrix3d by_frequency = Eigen::Matrix3d::Zero();
};
/// Throws std::invalid_argument where a measure is not above 0. Cost: below 1 s. Threads: pure.
BoardFit fit_board(const Board& board, const BoardTaps& taps, const Wood& start);

} // namespace platewright::plate
