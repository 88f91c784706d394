#include "base/angle.hpp"
#include "modes/mode.hpp"
#include "plate/fit/fit_inside.hpp"
#include "wording/say.hpp"

#include <Eigen/Cholesky>

#include <cmath>

namespace platewright::plate {
namespace {

constexpr double k_far = 2.5;           // deviations of a constant from its prior: implausible
constexpr double k_wild_residual = 4.0; // deviations of a mode

std::string_view name_of(FitUnknown u) {
    switch (u) {
    case FitUnknown::e_l:
        return wording::say("stiffness along the grain");
    case FitUnknown::e_r:
        return wording::say("stiffness across the grain");
    case FitUnknown::g_lr:
        return wording::say("shear stiffness");
    case FitUnknown::rest:
        return wording::say("stiffness through the thickness");
    case FitUnknown::ring:
        return wording::say("the rings' lean");
    case FitUnknown::run_out:
        return wording::say("the run-out");
    case FitUnknown::density:
        return wording::say("density");
    case FitUnknown::thickness:
        return wording::say("thickness");
    case FitUnknown::arch:
    case FitUnknown::long_fullness:
    case FitUnknown::cross_fullness:
    case FitUnknown::long_ends:
    case FitUnknown::cross_ends:
    case FitUnknown::departures:
        return wording::say("the arch's shape");
    }
    return "";
}

// How far the arch was pulled, as a deviation of the normal distribution. Its many unknowns share
// what is pulled, and the more the taps tell of them, the longer it must come out: were the prior
// right, a' P^-1 a would have the mean tr W and the variance 2 tr W^2, W = 1 - P^-1 S, P the
// prior's and S the posterior's covariance. A chi-square of those two moments (F. E. Satterthwaite,
// Biometrics Bull. 2, 1946, 110), made normal by its cube root (E. B. Wilson, M. M. Hilferty, Proc.
// Nat. Acad. Sci. 17, 1931, 684); both from memory.
double pulled_arch(const FitVector& unknowns, const FitMatrix& prior, const FitMatrix& posterior) {
    const ArchShift arch = unknowns.tail<k_arch_unknowns>();
    const auto factor = prior.bottomRightCorner<k_arch_unknowns, k_arch_unknowns>().ldlt();
    const Eigen::MatrixXd told =
        Eigen::MatrixXd::Identity(k_arch_unknowns, k_arch_unknowns) -
        factor.solve(
            Eigen::MatrixXd(posterior.bottomRightCorner<k_arch_unknowns, k_arch_unknowns>()));
    const double mean = told.trace(), half_variance = (told * told).trace();
    if (!(mean > 0.0) || !(half_variance > 0.0))
        return 0.0; // nothing was told of it
    const double freedom = mean * mean / half_variance, spread = 2.0 / (9.0 * freedom);
    return (std::cbrt(arch.dot(factor.solve(arch)) / mean) - (1.0 - spread)) / std::sqrt(spread);
}

// How far each unknown was pulled, in its own deviations; the arch as one.
Eigen::Matrix<double, k_first_arch_unknown + 1, 1>
pulled(const FitVector& unknowns, const FitMatrix& prior, const FitMatrix& posterior) {
    Eigen::Matrix<double, k_first_arch_unknown + 1, 1> away;
    away.head<k_first_arch_unknown>() =
        unknowns.head<k_first_arch_unknown>()
            .cwiseQuotient(prior.diagonal().head<k_first_arch_unknown>().cwiseSqrt())
            .cwiseAbs();
    away[k_first_arch_unknown] = pulled_arch(unknowns, prior, posterior);
    return away;
}

std::string amount(const PlateModel& model, const PlateFit& fit, int unknown) {
    if (unknown == k_ring || unknown == k_run_out)
        return wording::figure(base::in_deg(fit.unknowns[unknown]), 0) + "°";
    if (unknown < k_thickness)
        return wording::figure(100.0 * std::expm1(fit.unknowns[unknown]), 0) + " %";
    if (unknown == k_thickness)
        return wording::figure(fit.unknowns[unknown], 2) + " mm";
    const Eigen::VectorXd moved =
        model.surface(model.thickness_at([](Point) { return 1.0; }), fit.arch).outside_mm -
        model.surface(model.thickness_at([](Point) { return 1.0; })).outside_mm;
    Eigen::Index worst = 0;
    moved.cwiseAbs().maxCoeff(&worst);
    return wording::figure(moved[worst], 1) + " mm";
}

} // namespace

bool is_far_off(const FitVector& unknowns, const FitMatrix& prior, const FitMatrix& posterior) {
    return pulled(unknowns, prior, posterior).maxCoeff() > k_far;
}

void judge(PlateFit& fit, const PlateModel& model, const FitMatrix& prior) {
    int farthest = 0;
    const bool is_far = pulled(fit.unknowns, prior, fit.covariance).maxCoeff(&farthest) > k_far;
    const FitResidual* worst = nullptr;
    for (const auto& r : fit.residuals)
        if (r.row == FitRow::mode &&
            (!worst || std::abs(r.deviations) > std::abs(worst->deviations)))
            worst = &r;
    const bool is_wild = worst && std::abs(worst->deviations) > k_wild_residual;
    fit.is_plausible = !is_far && !is_wild;
    if (fit.is_plausible)
        return;
    fit.doubt = wording::say("No plausible wood gives these frequencies.");
    if (is_far)
        fit.doubt += " " + wording::say("It would have to be off by this much: {}, {}.",
                                        name_of(static_cast<FitUnknown>(farthest)),
                                        amount(model, fit, farthest));
    if (worst)
        fit.doubt +=
            " " + wording::say("Of them, {} fits worst (tapped {} Hz, model {} Hz).",
                               modes::mode_text(worst->number), wording::figure(worst->measured, 1),
                               wording::figure(worst->modelled, 1));
    fit.doubt += " ";
    fit.doubt +=
        wording::say("A mode may be named wrongly, or the thickness map, the arching or the "
                     "mass may not be this plate's.");
}

} // namespace platewright::plate
