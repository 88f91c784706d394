#pragma once
/// What the files of the fit share; the plan takes its model's error from it too.

#include "plate/fit/fit.hpp"

#include <random>

namespace platewright::plate {

inline constexpr int k_ring = static_cast<int>(FitUnknown::ring);
inline constexpr int k_run_out = static_cast<int>(FitUnknown::run_out);
inline constexpr int k_density = static_cast<int>(FitUnknown::density);
inline constexpr int k_thickness = static_cast<int>(FitUnknown::thickness);

/// What the model's own simplifications add to a shift, in parts of it.
inline constexpr double k_shift_error = 0.05;

inline constexpr double k_settled = 0.01; // of what is held of an unknown before any tap

/// Everything that was measured, the model's values for it, and their derivatives.
struct Observations {
    std::vector<FitResidual> rows;
    Eigen::VectorXd measured, modelled;
    Eigen::MatrixXd own;           // covariance but for the model's error that all sessions share
    Eigen::MatrixXd slope;         // a row an observation, a column an unknown
    Eigen::MatrixXd series_shapes; // of the modes that rows of the series number
};

/// Gaussian numbers that are the same with every standard library (Box and Muller).
Eigen::VectorXd gaussian(Eigen::Index n, std::mt19937& random);

/// What is known before, and where it starts from.
struct FitStart {
    const PlateWood& wood;
    FitMatrix covariance, information; // of the priors
    FitVector sd;
};

/// The plate with these unknowns.
PlateGuess guess_at(const PlateWood& start, const FitVector& unknowns);

/// The bottom of the valley that a start lies in.
struct Settled {
    FitStatus status = FitStatus::nothing_to_fit;
    FitVector unknowns = FitVector::Zero();
    FitMatrix covariance = FitMatrix::Zero(); // by the curvature there
    Observations observed;
    Eigen::MatrixXd weights; // covariance of the observations
    double cost = 0.0;       // misfit and departure from `mean`, both squared in deviations
};
/// observe: empty where the fit is to stop. weigh: covariance of the observations. from: the
/// unknowns to start at; mean: what the priors hold; near: the step, in parts of the priors'
/// deviations, where it is settled.
Settled settle(const FitStart& start, const FitVector& mean, const FitVector& from,
               const std::function<Observations(const FitVector&)>& observe,
               const std::function<Eigen::MatrixXd(const Observations&)>& weigh, double near);

class FitObserver;

/// The same of what was measured, by the priors as they stand.
Settled settle_measured(const FitStart& start, const FitVector& from, FitObserver& observer);

/// The fit by named modes, taken on to the heard ones; as it was where they contradict it.
Settled settle_series(const FitStart& start, Settled named, FitObserver& observer);

/// The fit by taps alone, taken on to the weighings; what became of each goes into `fit`. Where
/// they contradict each other it comes back as it was.
Settled settle_weighed(const FitStart& start, Settled alone, FitObserver& observer, PlateFit& fit);

/// The slopes of a weighed row of a mode with this frequency and slopes without the mass.
FitVector weighed_slope(const WeighedMode& mode, double frequency_hz, const FitVector& by_unknown);

/// Whether an unknown is pulled farther from its prior than is to be believed.
bool is_far_off(const FitVector& unknowns, const FitMatrix& prior, const FitMatrix& posterior);

/// Says what would have to be wrong, where the fit is not to be believed.
void judge(PlateFit& fit, const PlateModel& model, const FitMatrix& prior);

/// Draws the fit's samples, and takes the mean of the curvatures there for its covariance.
void draw_samples(PlateFit& fit, const PlateModel& model, const FitStart& start,
                  const Settled& best, const Eigen::VectorXd& newest_mm,
                  const std::function<bool()>& goes_on);

} // namespace platewright::plate
