#pragma once
/// What is known of a plate's wood before its first tap.

#include "plate/fit/fit.hpp"

#include <optional>
#include <string>

namespace platewright::plate {

/// One constant of this very wood, with the standard deviation of its logarithm (0.03: three per
/// cent).
struct MeasuredConstant {
    double value = 0.0;
    double log_sd = 0.0;
};

/// What was measured on the billet that a plate was carved from, in the plate's own moisture. What
/// is missing is taken from the species. How to use it: fill in what the billet's bar and plate
/// taps gave, and hand it to trends::starting_wood or trends::study_plate; the fit then starts from
/// these constants and holds them as firmly as their deviations say.
struct MeasuredWood {
    std::optional<MeasuredConstant> e_l_gpa;
    std::optional<MeasuredConstant> e_r_gpa;
    std::optional<MeasuredConstant> g_lr_gpa;
    std::optional<MeasuredConstant> density_kg_m3;
    std::string source; // said beside the fit: "billet 12, tapped 2026-03-01"

    bool empty() const { return !e_l_gpa && !e_r_gpa && !g_lr_gpa && !density_kg_m3; }
};

/// Where a fit starts from, and how firmly it holds to that.
struct WoodPrior {
    Wood wood;
    FitPriors priors;
};

/// The species' wood with what was measured in its place. The shears G_LT and G_RT and E_T follow
/// no measurement: they stay the species', as loosely held as `usual` has it.
/// Throws std::invalid_argument for a constant or a deviation that is not more than nothing.
WoodPrior wood_prior(const Wood& species, const MeasuredWood& measured,
                     const FitPriors& usual = {});

} // namespace platewright::plate
