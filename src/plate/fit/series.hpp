#pragma once
/// Which mode of the model's series each mode is that was heard and not named.

#include <Eigen/Core>

#include <span>
#include <vector>

namespace platewright::plate {

/// A mode heard in a session that nobody named.
struct HeardMode {
    double frequency_hz = 0.0;
    double sd_hz = 0.0; // of the session's value
};

/// How far the model's modes beside 1, 2 and 5 lie off in parts of their frequency: each alone, and
/// all together. CalculiX solids (docs/plate-model.md, "Held to the outside"): modes 3, 4, 6, 7, 8
/// of flat boards and backs +0.1 % on the mean and 0.25 % about it, of tops +1.25 and 0.5 %;
/// doubled for what solids simplify as well.
inline constexpr double k_series_alone = 0.010, k_series_together = 0.010;

/// A heard mode that is taken for one of the model's.
struct SeriesMatch {
    std::size_t heard = 0;
    int mode = 0;             // of the model's, from 0
    double probability = 0.0; // over all ways to tell
};

/// What a heard mode that is explained is worth beside one that is not, in deviations squared:
/// twice the logarithm of the odds that match_series gives to one that lies where the model has it.
double worth_of_match();

/// The modes that may have been heard, as the fit foretells them: logarithms of their frequencies
/// in Hz, what moves them and how freely.
struct SeriesForetold {
    std::vector<int> modes;  // of the model's, from 0
    Eigen::VectorXd log_hz;  // a value each
    Eigen::MatrixXd slope;   // of these: a row a mode, a column an unknown
    Eigen::MatrixXd factor;  // L, of the unknowns' covariance L L'
    double highest_hz = 0.0; // what lies higher may be a mode that was not asked about
    double repeat = 0.0;     // of a mode when the plate is hung and tapped again, in parts
};

/// Sums over all ways to tell the heard modes from low to high, modes unheard and sounds that are
/// none of the plate's among them, in many plates drawn as the fit leaves them, each by how well it
/// explains what was heard; what has less than four chances in five to be that mode is left out.
/// Pure and repeatable. Cost: some ms.
std::vector<SeriesMatch> match_series(const SeriesForetold& foretold,
                                      std::span<const HeardMode> heard);

} // namespace platewright::plate
