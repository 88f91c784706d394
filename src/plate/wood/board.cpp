#include "plate/wood/board.hpp"

#include "plate/shell/shell.hpp"

#include <Eigen/Dense>

#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

namespace platewright::plate {
namespace {

constexpr double k_free_bar = 0.9464; // 48 pi^2 / 22.3733^2, the free bar's
constexpr double k_twist = 0.822;     // Rayleigh's quotient of w = xy
constexpr int k_modes = 12;           // the three are among them unless the board is a lath
constexpr double k_recognised = 0.5;  // least share of a motion's form in a mode that passes for it
constexpr double k_triangles_along = 36.0;
constexpr double k_triangles_across = 14.0;

void require_measures(const Board& board) {
    for (const double value : {board.along_mm, board.across_mm, board.thickness_mm, board.mass_g})
        if (!(value > 0.0))
            throw std::invalid_argument{"a board's measures and mass are above 0"};
}

double squared(double x) { return x * x; }

// The frequency of a bending motion that knows nothing of the other.
double lone_hz(double modulus_gpa, double density, double extent_mm, double thickness_mm) {
    return std::sqrt(1e9 * modulus_gpa / (k_free_bar * density)) * 1e-3 * thickness_mm /
           squared(1e-3 * extent_mm);
}
double lone_along_hz(const Board& board, const Wood& wood) {
    return lone_hz(wood.e_l_gpa, board.density_kg_m3(), board.along_mm, board.thickness_mm);
}
double lone_across_hz(const Board& board, const Wood& wood) {
    return lone_hz(wood.e_r_gpa, board.density_kg_m3(), board.across_mm, board.thickness_mm);
}

bool along_is_higher(const Board& board, const Wood& wood) {
    return lone_along_hz(board, wood) > lone_across_hz(board, wood);
}

/// The board as a shell, made once for many woods.
class BoardModel {
public:
    /// along_is_high: which of the two bending motions the upper one is called.
    BoardModel(const Board& board, bool along_is_high)
        : along_is_high_{along_is_high}, shell_{mesh(board)} {
        const auto n = static_cast<Eigen::Index>(shell_.mesh().points.size());
        surface_ = {Eigen::VectorXd::Zero(n), Eigen::VectorXd::Ones(n),
                    Eigen::VectorXd::Constant(n, board.thickness_mm)};
        forms_ = Eigen::MatrixXd(n, 3);
        for (Eigen::Index i = 0; i < n; ++i) {
            const Point p = shell_.mesh().points[static_cast<std::size_t>(i)];
            const double x = 2.0 * p.x_mm / board.across_mm;
            const double y = 2.0 * p.y_mm / board.along_mm - 1.0;
            forms_.row(i) << y * y, x * x, x * y;
        }
        const Eigen::RowVectorXd mean = forms_.colwise().mean();
        forms_.rowwise() -= mean;
    }

    /// Along, across, twist; 0 where a motion is not among the modes computed.
    Eigen::Vector3d frequencies_hz(const Wood& wood) const {
        const ShellModes modes = shell_.solve(surface_, {wood, wood}, k_modes);
        // Each mode's share in the twist and in the plane of the two bending forms.
        Eigen::VectorXd twist(k_modes), bend(k_modes);
        const Eigen::MatrixXd both = forms_.leftCols<2>();
        const auto solver = both.colPivHouseholderQr();
        for (int m = 0; m < k_modes; ++m) {
            const Eigen::VectorXd w = deflection(modes, m);
            twist[m] = std::abs(w.dot(forms_.col(2))) / forms_.col(2).norm() / w.norm();
            bend[m] = (both * solver.solve(w)).norm() / w.norm();
        }
        Eigen::Index one = 0, other = 0, turning = 0;
        const bool twists = twist.maxCoeff(&turning) > k_recognised;
        const bool bends = bend.maxCoeff(&one) > k_recognised;
        bend[one] = 0.0;
        const bool bends_twice = bends && bend.maxCoeff(&other) > k_recognised;
        const double low = bends_twice ? modes.frequency_hz[std::min(one, other)]
                           : bends     ? modes.frequency_hz[one]
                                       : 0.0;
        const double high = bends_twice ? modes.frequency_hz[std::max(one, other)] : 0.0;
        return {along_is_high_ ? high : low, along_is_high_ ? low : high,
                twists ? modes.frequency_hz[turning] : 0.0};
    }

private:
    static PlanMesh mesh(const Board& board) {
        const double half = 0.5 * board.across_mm,
                     longest = std::max(board.along_mm, board.across_mm);
        const Loop rim{{-half, 0.0}, {half, 0.0}, {half, board.along_mm}, {-half, board.along_mm}};
        const double size =
            std::min(longest / k_triangles_along,
                     std::min(board.along_mm, board.across_mm) / k_triangles_across);
        return mesh_plan({rim, {}, {}}, size);
    }

    Eigen::VectorXd deflection(const ShellModes& modes, int mode) const {
        const auto n = forms_.rows();
        Eigen::VectorXd w(n);
        for (Eigen::Index i = 0; i < n; ++i)
            w[i] = modes.shapes(6 * i + 2, mode);
        return w.array() - w.mean();
    }

    bool along_is_high_;
    Shell shell_;
    ShellSurface surface_;
    Eigen::MatrixXd forms_; // along, across, twist; a row a node
};

Wood scaled(const Wood& start, const Eigen::Vector3d& log_factor) {
    const Eigen::Vector3d f = log_factor.array().exp();
    Wood wood = start;
    wood.e_l_gpa *= f[0];
    wood.g_lt_gpa *= f[2];
    wood.e_r_gpa *= f[1];
    wood.e_t_gpa *= f[1];
    wood.g_lr_gpa *= f[2];
    wood.g_rt_gpa *= f[2];
    return wood;
}

// d ln f by d ln (E_L, E_R, G_LR), a row a frequency.
Eigen::Matrix3d slopes(const BoardModel& model, const Wood& start, const Eigen::Vector3d& at,
                       const Eigen::Vector3d& log_hz) {
    constexpr double k_step = 0.02;
    Eigen::Matrix3d by;
    for (int k = 0; k < 3; ++k) {
        Eigen::Vector3d moved = at;
        moved[k] += k_step;
        const Eigen::Vector3d then =
            model.frequencies_hz(scaled(start, moved)).cwiseMax(1e-3).array().log();
        by.col(k) = (then - log_hz) / k_step;
    }
    return by;
}

} // namespace

double Board::density_kg_m3() const {
    require_measures(*this);
    return 1e6 * mass_g / (along_mm * across_mm * thickness_mm);
}

BoardConstants simple_board_constants(const Board& board, const BoardTaps& taps) {
    const double density = board.density_kg_m3(), h = 1e-3 * board.thickness_mm;
    const double a = 1e-3 * board.along_mm, b = 1e-3 * board.across_mm;
    const auto bending = [&](double hz, double extent) {
        return k_free_bar * 1e-9 * density * squared(hz * extent * extent / h);
    };
    BoardConstants constants;
    if (taps.along_hz)
        constants.e_l_gpa = bending(*taps.along_hz, a);
    if (taps.across_hz)
        constants.e_r_gpa = bending(*taps.across_hz, b);
    if (taps.twist_hz)
        constants.g_lr_gpa = k_twist * 1e-9 * density * squared(*taps.twist_hz * a * b / h);
    return constants;
}

bool is_mixed(const Board& board, const Wood& wood) {
    const double ratio = lone_along_hz(board, wood) / lone_across_hz(board, wood);
    return ratio > 0.8 && ratio < 1.25;
}

Eigen::Vector3d board_frequencies_hz(const Board& board, const Wood& wood) {
    require_measures(board);
    Wood heavy = wood;
    heavy.density_kg_m3 = board.density_kg_m3();
    return BoardModel(board, along_is_higher(board, heavy)).frequencies_hz(heavy);
}

BoardFit fit_board(const Board& board, const BoardTaps& taps, const Wood& start) {
    const BoardConstants simple = simple_board_constants(board, taps);
    Wood first = start;
    first.density_kg_m3 = board.density_kg_m3();
    const std::array tapped{taps.along_hz, taps.across_hz, taps.twist_hz};
    const std::array guess{simple.e_l_gpa, simple.e_r_gpa, simple.g_lr_gpa};
    const std::array began{first.e_l_gpa, first.e_r_gpa, first.g_lr_gpa};
    Eigen::Vector3d at = Eigen::Vector3d::Zero(), wanted = Eigen::Vector3d::Zero();
    std::vector<Eigen::Index> known;
    for (std::size_t k = 0; k < 3; ++k)
        if (tapped[k]) {
            known.push_back(static_cast<Eigen::Index>(k));
            wanted[static_cast<Eigen::Index>(k)] = std::log(*tapped[k]);
            at[static_cast<Eigen::Index>(k)] = std::log(*guess[k] / began[k]);
        }
    BoardFit fit;
    fit.wood = scaled(first, at);
    if (known.empty())
        return fit;
    const BoardModel model(board, taps.along_hz && taps.across_hz
                                      ? *taps.along_hz > *taps.across_hz
                                      : along_is_higher(board, fit.wood));
    Eigen::MatrixXd inverse;
    for (int round = 0; round < 12 && !fit.settled && is_physical(scaled(first, at)); ++round) {
        const Eigen::Vector3d hz = model.frequencies_hz(scaled(first, at));
        if (hz(known).minCoeff() <= 0.0)
            break;
        const Eigen::Vector3d log_hz = hz.cwiseMax(1e-3).array().log();
        if (round == 0) { // the slopes hardly change on the way
            const Eigen::MatrixXd by = slopes(model, first, at, log_hz)(known, known);
            inverse = by.fullPivLu().inverse();
        }
        Eigen::VectorXd step = inverse * (wanted - log_hz)(known);
        step = step.cwiseMax(-0.3).cwiseMin(0.3);
        at(known) += step;
        fit.settled = step.cwiseAbs().maxCoeff() < 1e-4;
    }
    fit.wood = scaled(first, at);
    fit.settled = fit.settled && is_physical(fit.wood);
    if (inverse.size() > 0)
        for (std::size_t r = 0; r < known.size(); ++r)
            for (std::size_t c = 0; c < known.size(); ++c)
                fit.by_frequency(known[r], known[c]) =
                    inverse(static_cast<Eigen::Index>(r), static_cast<Eigen::Index>(c));
    return fit;
}

} // namespace platewright::plate
