#pragma once
/// Fitting the wood of a plate to the modes tapped on it, over all its sessions.

#include "base/angle.hpp"
#include "plate/fit/series.hpp"
#include "plate/fit/weighed.hpp"
#include "plate/shell/shape_names.hpp"
#include "plate/wood/flex.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace platewright::plate {

/// A mode tapped in a session, by the number the trade calls it.
struct TappedMode {
    int number = 0;
    double frequency_hz = 0.0;
    double sd_hz = 0.0; // of the session's value; the spread of re-hanging is added
};

/// What a mass on the plate did to one mode.
struct WeighedShift {
    int number = 0;
    double log_ratio = 0.0; // ln(frequency with the mass / without), drift taken out
    double sd = 0.0;        // of it
};

/// A mass that was laid on in a session, with what it did.
struct WeighedReading {
    LaidMass mass;
    std::vector<WeighedShift> shifts;
};

/// One session: the thickness the plate had (at the nodes of the model), mass and modes.
struct FitSession {
    Eigen::VectorXd thickness_mm;
    std::optional<double> mass_g;
    std::vector<TappedMode> modes;
    std::vector<FlexReading> flexes;
    std::vector<WeighedReading> weighings;
    std::vector<HeardMode> heard; // beside `modes`; what the model's series explains counts
};

/// How well an eye with a protractor reads an angle off the end grain, and off a split edge (common
/// practice, no source).
inline constexpr double k_read_rings_rad = base::in_rad(2.0),
                        k_read_run_out_rad = base::in_rad(1.0);

/// What is held before any tap; standard deviations. The arch's are the model's (ArchPriors).
struct FitPriors {
    Eigen::Vector4d log_wood = {0.20, 0.25, 0.20, 0.30}; // of ln E_L, E_R, G_LR, rest
    /// Of the rings and the fibres where nobody has looked at the end grain and the split: wood for
    /// instruments is cut nearly on the quarter and split (common practice, no source).
    double ring_rad = 0.10;
    double run_out_rad = 0.035;
    double log_density = 0.10;
    double thickness_mm = 0.03; // of the whole map: the caliper's own offset
    double repeat = 0.005;      // of a mode when the plate is hung and tapped again
    double model = 0.005;       // of a mode in the model, the same in all sessions
    double mass = 0.005;        // of the scales, with what is not plate
    double flex = 0.05;         // of a deflection: how well the supports are where they should be
};

/// The unknowns, in this order; from `arch` on they are the ArchShift's.
enum class FitUnknown {
    e_l,
    e_r,
    g_lr,
    rest,
    ring,
    run_out,
    density,
    thickness,
    arch,
    long_fullness,
    cross_fullness,
    long_ends,
    cross_ends,
    departures
};
inline constexpr int k_first_arch_unknown = static_cast<int>(FitUnknown::arch);
inline constexpr int k_fit_unknowns = k_first_arch_unknown + k_arch_unknowns;
using FitVector = Eigen::Matrix<double, k_fit_unknowns, 1>;
using FitMatrix = Eigen::Matrix<double, k_fit_unknowns, k_fit_unknowns>;

/// What was measured: a named mode's frequency (Hz), that of a heard one, the plate's mass (g), a
/// deflection (mm), or what a laid mass did to a mode (WeighedShift::log_ratio).
enum class FitRow { mode, series, mass, flex, weighed };

/// How one measured value came out.
struct FitResidual {
    FitRow row = FitRow::mode;
    std::size_t session = 0;
    std::size_t reading = 0; // of the session's flexes, weighings or heard modes
    int number = 0;          // of the mode; series: of the model's, from 1; 0: none
    double measured = 0.0;
    double modelled = 0.0;
    double deviations = 0.0; // (measured - model) over what was expected of it
};

/// How a weighed reading of the fit came out.
struct WeighedCheck {
    std::size_t session = 0;
    std::size_t reading = 0;
    double deviations = 0.0; // root mean square over its modes, place and taps counted
    bool is_used = true;
};

/// The sum rule: what a mode weighs at the places that were tried, beside the model's own share of
/// its motion there. A mode's motion over the whole plate weighs the plate's mass, whatever the
/// wood, so the model of the right plate gives 1.
/// Modes that hardly move at the places are left out.
struct WeighedSum {
    int number = 0;
    double ratio = 1.0;
    double sd = 0.0;
};

enum class FitStatus { ok, nothing_to_fit, not_settled, impossible_wood, stopped };

/// What a deflection gains (mm) as each unknown grows.
FitVector slope_of(const FlexValue& value);

/// One wood, arch and map offset that a plate may have.
struct PlateGuess {
    FitVector unknowns = FitVector::Zero(); // ln factors, rad, ln, mm, then the arch's
    PlateWood wood;                         // the start's, changed
    ArchShift arch = ArchShift::Zero();     // of the model's arch
    double thickness_mm = 0.0;              // to add to every map
};

/// A plate that the taps leave possible, and its modes at the newest session's thickness.
struct PlateSample : PlateGuess {
    ShellModes modes;
    std::array<ShapeName, 3> names;
};

/// The plate as the fit holds it: the most probable one, and how far it may be off.
struct PlateFit : PlateGuess {
    FitStatus status = FitStatus::nothing_to_fit;
    FitMatrix covariance = FitMatrix::Zero(); // about the most probable one
    std::vector<PlateSample> samples; // as probable as the taps leave them; empty: not drawn
    Eigen::VectorXd sampled_mm;       // the thickness their modes are for
    std::vector<FitResidual> residuals;
    std::vector<WeighedCheck> weighings;  // of every session, in order
    std::vector<WeighedSum> weighed_sums; // of the readings that are used
    std::string weighed_doubt;            // a sentence where readings were left out; else empty
    bool is_plausible = false;
    std::string doubt; // a sentence where the wood would have to be implausible; else empty

    double sd(FitUnknown u) const;
};

/// Most probable wood and its covariance (maximum a posteriori by Gauss-Newton with analytic
/// derivatives; A. Tarantola, Inverse Problem Theory, 2005, section 3.4). The model's own error in
/// a mode is common to all sessions. Modes 1, 2, 5 are found by shape; another number n is the
/// model's n-th mode. E_L and E_R can hardly be told apart from modes 1, 2 and 5 alone: read the
/// covariance, not the values.
/// The rings' lean hardly tells its sign and nothing near upright: where the wood comes out soft
/// across, leaning rings are tried too, and the better of the two is taken.
/// The valley between E_L and E_R is long and bent, and the curvature at its floor tells little of
/// it: plates as probable as the taps leave them are drawn by fitting anew to taps and priors off
/// by their own deviations (randomised maximum likelihood: D. S. Oliver, N. He, A. C. Reynolds,
/// ECMOR V, 1996, from memory); the covariance is the mean of those at all of them. They solve the
/// newest session only, and carry the others by their slopes from the fit.
/// Heard modes that nobody named count where they are surely one of the model's series
/// (series.hpp); one that the rest contradicts is left out, and where they contradict the named
/// modes all are. Weighings (weighed.hpp) are counted by how far their mass may lie off its place
/// and hold less where they stand alone (P. J. Huber, Robust Statistics, 1981, from memory); one
/// that the rest contradicts is left out, and where they contradict each other the taps alone are
/// taken. Cost: sessions x 4 x 50 ms (half more with heard modes; 100 with weighings, twice), and
/// about 1 s for the samples. Threads: pure; `goes_on` is asked before each solve, false stops.
PlateFit fit_wood(const PlateModel& model, const PlateWood& start,
                  std::span<const FitSession> sessions, const FitPriors& priors = {},
                  const std::function<bool()>& goes_on = {});

/// Index of the model's mode that the trade calls by this number; -1 where there is none.
int mode_index(const std::array<ShapeName, 3>& names, int number);

/// The fitted plate at one thickness: modes and the derivatives that carry the fit's covariance.
struct FittedState {
    ShellModes modes;
    std::array<ShapeName, 3> names;
    Eigen::MatrixXd by_unknown; // Hz; a row an unknown, a column a mode
    double mass_g = 0.0;
};
/// like: modes of nearly the same plate to start from, or empty. Cost: about 50 ms.
FittedState fitted_state(const PlateModel& model, const PlateGuess& plate,
                         const Eigen::VectorXd& thickness_mm, const Eigen::MatrixXd& like = {});

/// What a mode is expected to do when the thickness goes from one state to another.
struct ShiftForecast {
    int number = 0;
    double now_hz = 0.0; // of the model
    double then_hz = 0.0;
    double shift_hz = 0.0;
    double shift_sd_hz = 0.0; // from the remaining uncertainty of the wood and the model
};
/// Modes followed by likeness of shape between the states; a mode that can't be followed is left
/// out.
std::vector<ShiftForecast> forecast_shifts(const PlateModel& model, const PlateFit& fit,
                                           const FittedState& now, const FittedState& then,
                                           std::span<const int> numbers);

/// The samples with their modes at one thickness. Cost: 30 ms each; nothing at sampled_mm.
std::vector<PlateSample> samples_at(const PlateModel& model, const PlateFit& fit,
                                    const Eigen::VectorXd& thickness_mm);

/// forecast_shifts over all plates that may be: the shift is the samples' mean, and its deviation
/// theirs and the covariance's together. Without samples as forecast_shifts.
/// samples: at the thickness of `now`; then_mm: the thickness of `then`. Cost: 25 ms a sample.
std::vector<ShiftForecast> forecast_over(const PlateModel& model, const PlateFit& fit,
                                         const FittedState& now, const FittedState& then,
                                         std::span<const PlateSample> samples,
                                         const Eigen::VectorXd& then_mm,
                                         std::span<const int> numbers);

/// Hindsight: a forecast set beside what was tapped after the pass.
struct Hindsight {
    int number = 0;
    double expected_hz = 0.0; // tapped before, plus the forecast's shift
    double tapped_hz = 0.0;
    double deviations = 0.0; // in standard deviations of forecast and both taps together
    std::string text;        // one sentence
};
/// is_in_one_air: the taps of both times are, so that humidity explains nothing.
std::vector<Hindsight> hindsight(std::span<const ShiftForecast> forecast,
                                 std::span<const TappedMode> before,
                                 std::span<const TappedMode> after, const FitPriors& priors = {},
                                 bool is_in_one_air = false);

} // namespace platewright::plate
