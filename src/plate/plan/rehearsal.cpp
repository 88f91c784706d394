#include "plate/plan/rehearsal.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace platewright::plate {

double depth_mm(const Cut& cut, Point p) {
    const double apart = std::hypot(p.x_mm - cut.at.x_mm, p.y_mm - cut.at.y_mm);
    const double share = std::min(1.0, 2.0 * apart / cut.across_mm);
    return 0.5 * cut.depth_mm * (1.0 + std::cos(std::numbers::pi * share));
}

Rehearsal rehearse(const PlateModel& model, const PlateFit& fit, const FittedState& now,
                   const Eigen::VectorXd& thickness_mm, const Cut& cut,
                   std::span<const int> numbers) {
    constexpr double k_patch_hz = 0.015, k_patch_mm3 = 100.0;
    Rehearsal r;
    r.removal_mm = model.thickness_at([&](Point p) { return depth_mm(cut, p); });
    const Eigen::VectorXd then_mm = thickness_mm - r.removal_mm;
    const Eigen::VectorXd volume_mm3 =
        r.removal_mm.cwiseProduct(model.node_area_mm2()).cwiseProduct(model.stretch());
    r.wood_g = r.removal_mm.dot(model.wood_g_per_mm(fit.wood));
    r.thinnest_mm = std::numeric_limits<double>::infinity();
    for (Eigen::Index i = 0; i < then_mm.size(); ++i)
        if (r.removal_mm[i] > 0.0)
            r.thinnest_mm = std::min(r.thinnest_mm, then_mm[i]);
    const FittedState then = fitted_state(model, fit, then_mm, now.modes.shapes);
    const auto samples = samples_at(model, fit, thickness_mm);
    r.shifts = forecast_over(model, fit, now, then, samples, then_mm, numbers);
    for (ShiftForecast& f : r.shifts)
        f.shift_sd_hz = std::hypot(f.shift_sd_hz, k_patch_hz * volume_mm3.sum() / k_patch_mm3);
    return r;
}

} // namespace platewright::plate
