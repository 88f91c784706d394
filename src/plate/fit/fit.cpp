#include "plate/fit/fit.hpp"

#include "plate/fit/fit_observer.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU> // inverse

#include <algorithm>
#include <cmath>
#include <optional>

namespace platewright::plate {
namespace {

constexpr int k_fit_rounds = 14; // as a rule four
constexpr double k_worse = 1e-6; // of the cost: rounding

FitMatrix prior_covariance(const FitPriors& p, const ArchCovariance& arch) {
    FitMatrix prior = FitMatrix::Zero();
    prior.diagonal().head<k_first_arch_unknown>() << p.log_wood.cwiseAbs2(),
        p.ring_rad * p.ring_rad, p.run_out_rad * p.run_out_rad, p.log_density * p.log_density,
        p.thickness_mm * p.thickness_mm;
    prior.bottomRightCorner<k_arch_unknowns, k_arch_unknowns>() = arch;
    return prior;
}

// Softer across than this many deviations of its kind, upright wood is asked whether it leans.
constexpr double k_soft_across = 1.0;
constexpr double k_leaning_rad = 0.17; // ten degrees

bool may_lean(const PlateWood& wood, const FitPriors& priors, const FitVector& unknowns) {
    return wood.left.lie.ring_rad == 0.0 && wood.right.lie.ring_rad == 0.0 &&
           priors.ring_rad > k_read_rings_rad &&
           unknowns[static_cast<int>(FitUnknown::e_r)] < -k_soft_across * priors.log_wood[1];
}

std::vector<FitResidual> residuals_of(const Observations& o, const Eigen::MatrixXd& covariance) {
    auto residuals = o.rows;
    for (std::size_t i = 0; i < residuals.size(); ++i) {
        const auto k = static_cast<Eigen::Index>(i);
        residuals[i].deviations = (o.measured[k] - o.modelled[k]) / std::sqrt(covariance(k, k));
    }
    return residuals;
}

// A step of Gauss-Newton, no longer than the linear picture is good for.
FitVector held_back(FitVector step, const FitVector& last_step, const FitVector& sd) {
    const double longest = step.cwiseQuotient(sd).cwiseAbs().maxCoeff();
    step *= std::min(1.0, 2.0 / std::max(longest, 1e-12));
    if (step.dot(last_step) < -0.5 * step.norm() * last_step.norm())
        step *= 0.5; // to and fro across a valley
    return step;
}

} // namespace

PlateGuess guess_at(const PlateWood& start, const FitVector& unknowns) {
    PlateGuess guess{unknowns, changed(start, unknowns.head<k_wood_unknowns>()),
                     unknowns.tail<k_arch_unknowns>(), unknowns[k_thickness]};
    guess.wood.left.density_kg_m3 *= std::exp(unknowns[k_density]);
    guess.wood.right.density_kg_m3 *= std::exp(unknowns[k_density]);
    return guess;
}

Settled settle(const FitStart& start, const FitVector& mean, const FitVector& from,
               const std::function<Observations(const FitVector&)>& observe,
               const std::function<Eigen::MatrixXd(const Observations&)>& weigh, double near) {
    Settled best;
    FitVector unknowns = from, last_step = FitVector::Zero();
    for (int round = 0; round < k_fit_rounds; ++round) {
        const Observations o = observe(unknowns);
        if (o.rows.empty()) {
            best.status = FitStatus::stopped;
            return best;
        }
        if (std::none_of(o.rows.begin(), o.rows.end(),
                         [](const auto& r) { return r.row != FitRow::mass; }))
            return best;
        const Eigen::MatrixXd c = weigh(o);
        const Eigen::LLT<Eigen::MatrixXd> weights(c);
        const Eigen::VectorXd off = o.measured - o.modelled;
        const FitVector away = unknowns - mean;
        const double cost = off.dot(weights.solve(off)) + away.dot(start.information * away);
        // too far, or a mode was taken for another
        if (best.status != FitStatus::nothing_to_fit && cost > best.cost * (1.0 + k_worse)) {
            unknowns = 0.5 * (unknowns + best.unknowns);
            last_step *= 0.5;
            continue;
        }
        const FitMatrix information =
            start.information + FitMatrix(o.slope.transpose() * weights.solve(o.slope));
        const FitVector pull = o.slope.transpose() * weights.solve(off) - start.information * away;
        const FitVector step = held_back(information.ldlt().solve(pull), last_step, start.sd);
        last_step = step;
        best = {FitStatus::not_settled, unknowns, information.inverse(), o, c, cost};
        if (step.cwiseQuotient(start.sd).cwiseAbs().maxCoeff() < near) {
            best.status = FitStatus::ok;
            break;
        }
        unknowns += step;
        const PlateWood next = guess_at(start.wood, unknowns).wood;
        if (!is_physical(next.left) || !is_physical(next.right)) {
            best.status = FitStatus::impossible_wood;
            break;
        }
    }
    return best;
}

Settled settle_measured(const FitStart& start, const FitVector& from, FitObserver& observer) {
    return settle(
        start, FitVector::Zero(), from,
        [&](const FitVector& unknowns) { return observer.observe(unknowns); },
        [&](const Observations& o) { return observer.covariance(o); }, k_settled);
}

double PlateFit::sd(FitUnknown u) const {
    const auto k = static_cast<Eigen::Index>(u);
    return std::sqrt(covariance(k, k));
}

int mode_index(const std::array<ShapeName, 3>& names, int number) {
    for (const auto& name : names)
        if (name.number == number)
            return name.index;
    const bool is_usual = names[0].index == 0 && names[1].index == 1 && names[2].index == 4;
    return is_usual ? number - 1 : -1;
}

FittedState fitted_state(const PlateModel& model, const PlateGuess& plate,
                         const Eigen::VectorXd& thickness_mm, const Eigen::MatrixXd& like) {
    constexpr int k_modes = 10;
    const Eigen::VectorXd h = (thickness_mm.array() + plate.thickness_mm).matrix();
    FittedState state;
    state.modes = model.solve(model.surface(h, plate.arch), plate.wood, k_modes, like);
    state.names = ShapeJudge(model).names(state.modes.shapes);
    const FitGradient g = fit_gradient(model, h, plate.arch, plate.wood, state.modes);
    state.by_unknown.resize(k_fit_unknowns, k_modes);
    state.by_unknown.topRows<k_wood_unknowns>() = g.wood_hz;
    state.by_unknown.row(k_density) = // the air is no denser for the wood's being so
        -0.5 * state.modes.frequency_hz.transpose().cwiseProduct(
                   (1.0 - state.modes.air_share.array()).matrix());
    state.by_unknown.bottomRows<k_arch_unknowns>() = g.arch_hz;
    state.by_unknown.row(k_thickness) = g.thick_hz_per_mm;
    state.mass_g = model.mass_g(h, plate.wood);
    return state;
}

PlateFit fit_wood(const PlateModel& model, const PlateWood& wood,
                  std::span<const FitSession> sessions, const FitPriors& priors,
                  const std::function<bool()>& goes_on) {
    PlateFit fit;
    fit.wood = wood;
    fit.covariance = prior_covariance(priors, model.arching().covariance());
    const FitStart start{wood, fit.covariance, fit.covariance.inverse(),
                         fit.covariance.diagonal().cwiseSqrt()};
    FitObserver observer(model, wood, sessions, priors, goes_on);
    Settled best = settle_measured(start, FitVector::Zero(), observer);
    if (best.status == FitStatus::ok && may_lean(wood, priors, best.unknowns)) {
        FitVector leaning = best.unknowns;
        leaning[k_ring] = k_leaning_rad;
        leaning[static_cast<int>(FitUnknown::e_r)] = 0.0;
        Settled other = settle_measured(start, leaning, observer);
        if (other.status == FitStatus::stopped ||
            (other.status == FitStatus::ok && other.cost < best.cost))
            best = std::move(other);
    }
    if (best.status == FitStatus::ok)
        best = settle_series(start, std::move(best), observer);
    if (best.status == FitStatus::ok && !observer.weighings().empty())
        best = settle_weighed(start, std::move(best), observer, fit);
    fit.status = best.status;
    if (best.status == FitStatus::stopped && (!goes_on || goes_on()))
        fit.status = FitStatus::nothing_to_fit; // no session had anything
    if (best.observed.rows.empty())
        return fit;
    static_cast<PlateGuess&>(fit) = guess_at(wood, best.unknowns);
    fit.covariance = best.covariance;
    fit.residuals = residuals_of(best.observed, best.weights);
    judge(fit, model, start.covariance);
    if (fit.status == FitStatus::ok || fit.status == FitStatus::not_settled)
        draw_samples(fit, model, start, best, sessions.back().thickness_mm, goes_on);
    return fit;
}

} // namespace platewright::plate
