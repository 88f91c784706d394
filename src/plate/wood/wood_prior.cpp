#include "plate/wood/wood_prior.hpp"

#include <stdexcept>

namespace platewright::plate {
namespace {

void take_over(const std::optional<MeasuredConstant>& measured, double& value, double& log_sd) {
    if (!measured)
        return;
    if (!(measured->value > 0.0) || !(measured->log_sd > 0.0))
        throw std::invalid_argument("a measured constant and its deviation must be above nothing");
    value = measured->value;
    log_sd = measured->log_sd;
}

} // namespace

WoodPrior wood_prior(const Wood& species, const MeasuredWood& measured, const FitPriors& usual) {
    WoodPrior prior{species, usual};
    take_over(measured.e_l_gpa, prior.wood.e_l_gpa, prior.priors.log_wood[0]);
    take_over(measured.e_r_gpa, prior.wood.e_r_gpa, prior.priors.log_wood[1]);
    take_over(measured.g_lr_gpa, prior.wood.g_lr_gpa, prior.priors.log_wood[2]);
    take_over(measured.density_kg_m3, prior.wood.density_kg_m3, prior.priors.log_density);
    return prior;
}

} // namespace platewright::plate
