#pragma once
/// Where to take how much wood, so that modes come to where the maker wants them.

#include "plate/fit/fit.hpp"
#include "plate/fit/next_measurement.hpp"
#include "plate/plan/removal.hpp"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace platewright::plate {

/// A mode and where it should go.
struct PlanTarget {
    int number = 0;
    double now_hz = 0.0; // by all that was tapped
    double want_hz = 0.0;
    double firmness = 1.0; // 1: to be met; 0.05: to be held softly
};

/// What the plan must keep to.
struct PlanLimits {
    StrokeField field;
    double least_mm = 2.0;   // no place thinner than this (common practice: 2.0 for violins)
    double deepest_mm = 0.6; // below the smooth graduation, earlier passes counted (our own choice)
    Eigen::VectorXd hollow_mm; // how far each node lies below it already (graduation.hpp); or empty
    std::optional<double> pass_share; // of the whole, before tapping again, as the maker wishes
};

/// How much of a plan's wood may go before the plate is tapped again, in parts of it: by the wood,
/// and by what is expected once all of it is off (no pass yet).
using PassShare = std::function<double(double wood_g, std::span<const PlanOutcome> after_all)>;

enum class PlanStatus { ok, nothing_to_do, not_reachable, modes_lost };

/// A removal that no scraper makes: nothing is taken.
inline constexpr double k_no_removal_mm = 0.01;

/// A proposal, never an order.
struct Plan {
    PlanStatus status = PlanStatus::nothing_to_do;
    Eigen::VectorXd depths_mm;  // a stroke each
    Eigen::VectorXd removal_mm; // at the nodes, all of it
    Eigen::VectorXd pass_mm;    // at the nodes, the next pass
    std::vector<PlanOutcome> outcomes;
    std::vector<int> held; // modes whose own goals keep others' out of reach
    double wood_g = 0.0;
    double pass_share = 1.0; // of it: the next pass
    double deepest_mm = 0.0;
    double thinnest_mm = 0.0; // that would be left
    int solves = 0;
    std::vector<NextMeasurement> next; // what would narrow what is expected, best first
    std::string summary;               // what it comes to, in a sentence or two
    std::vector<std::string> cautions;
};

/// Finds the least wood to take, smooth at the scale of a scraper, that brings the modes to their
/// targets: bounded least squares on the sensitivities (thinning_gradient), solved again with the
/// wood taken until the model itself meets the targets. Targets count as shifts from
/// now_hz. What can't be reached by thinning is said, and the nearest given that goes beyond no
/// firm target (to k_met_hz): wood can't be put back. Depth and smoothness are those of the hollows
/// that earlier passes left and the new wood together: else each pass digs where the one before
/// dug.
/// In: thickness at the nodes as measured. Cost: under 0.5 s. Threads: pure.
/// what: what could be measured before the next pass, for Plan::next; 0.3 s more for twenty places.
/// pass: the share of a pass where the limits name none; nothing: all of it is one pass.
/// Throws std::invalid_argument for a target without frequencies or shares outside 0..1.
Plan make_plan(const PlateModel& model, const PlateFit& fit, const Eigen::VectorXd& thickness_mm,
               std::span<const PlanTarget> targets, const PlanLimits& limits = {},
               const Measurable& what = {}, const PassShare& pass = {});

/// Fills in summary and cautions. Called by make_plan.
void describe(Plan& plan, const PlateFit& fit);

/// Targets from a reference: the same frequencies, or the same ratios to mode 2 with mode 2 kept.
enum class Likeness { equal_frequency, equal_ratio };
std::vector<PlanTarget> targets_from(std::span<const TappedMode> now,
                                     std::span<const TappedMode> reference, Likeness likeness);

} // namespace platewright::plate
