#include "plate/fit.hpp"

#include "base/text.hpp"
#include "modes/mode.hpp"
#include "wording/say.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU> // inverse

#include <algorithm>
#include <cmath>

namespace platewright::plate {
namespace {

constexpr int k_rounds = 14;            // as a rule four
constexpr double k_worse = 1e-6;        // of the cost: rounding
constexpr double k_settled = 2e-3;      // of ln factors and mm
constexpr double k_far = 2.5;           // deviations of a constant from its prior: implausible
constexpr double k_wild_residual = 4.0; // deviations of a mode

constexpr int k_density = static_cast<int>(FitUnknown::density);
constexpr int k_arch = static_cast<int>(FitUnknown::arch);
constexpr int k_thickness = static_cast<int>(FitUnknown::thickness);

PlateWood wood_at(const PlateWood& start, const FitVector& unknowns) {
    PlateWood wood = scaled(start, unknowns.head<4>());
    wood.left.density_kg_m3 *= std::exp(unknowns[k_density]);
    wood.right.density_kg_m3 *= std::exp(unknowns[k_density]);
    return wood;
}

FitVector prior_sd(const FitPriors& p) {
    FitVector sd;
    sd << p.log_wood, p.log_density, p.arch_mm, p.thickness_mm;
    return sd;
}

// Everything that was measured, the model's values for it, and their derivatives.
struct Observations {
    std::vector<FitResidual> rows;
    Eigen::VectorXd measured, modelled, own_sd;
    Eigen::MatrixXd slope; // a row an observation, a column an unknown
};

class Fitter {
public:
    Fitter(const PlateModel& model, const PlateWood& start, std::span<const FitSession> sessions,
           const FitPriors& priors, const std::function<bool()>& goes_on)
        : model_(model), start_(start), sessions_(sessions), priors_(priors), goes_on_(goes_on),
          shapes_(sessions.size()) {}

    Observations observe(const FitVector& unknowns) {
        rows_.clear();
        own_sd_.clear();
        slopes_.clear();
        PlateFit at;
        at.wood = wood_at(start_, unknowns);
        at.arch_mm = unknowns[k_arch];
        at.thickness_mm = unknowns[k_thickness];
        for (std::size_t s = 0; s < sessions_.size(); ++s) {
            if (goes_on_ && !goes_on_())
                return {};
            observe_session(s, at);
        }
        Observations o;
        o.rows = rows_;
        const auto n = static_cast<Eigen::Index>(rows_.size());
        o.measured.resize(n);
        o.modelled.resize(n);
        o.own_sd.resize(n);
        o.slope.resize(n, k_fit_unknowns);
        for (Eigen::Index i = 0; i < n; ++i) {
            const auto k = static_cast<std::size_t>(i);
            o.measured[i] = rows_[k].measured;
            o.modelled[i] = rows_[k].modelled;
            o.own_sd[i] = own_sd_[k];
            o.slope.row(i) = slopes_[k].transpose();
        }
        return o;
    }

    // Covariance of the observations: each its own error, and the model's common to a mode.
    Eigen::MatrixXd covariance(const Observations& o) const {
        const auto n = o.measured.size();
        Eigen::MatrixXd c = o.own_sd.cwiseAbs2().asDiagonal();
        for (Eigen::Index i = 0; i < n; ++i)
            for (Eigen::Index j = 0; j < n; ++j) {
                const int number = o.rows[static_cast<std::size_t>(i)].number;
                if (number > 0 && number == o.rows[static_cast<std::size_t>(j)].number)
                    c(i, j) += priors_.model * priors_.model * o.measured[i] * o.measured[j];
            }
        return c;
    }

private:
    void add(const FitResidual& row, double own_sd, const FitVector& slope) {
        rows_.push_back(row);
        own_sd_.push_back(own_sd);
        slopes_.push_back(slope);
    }

    void observe_session(std::size_t s, const PlateFit& at) {
        const auto& session = sessions_[s];
        const FittedState state = fitted_state(model_, at, session.thickness_mm, shapes_[s]);
        shapes_[s] = state.modes.shapes;
        for (const auto& tapped : session.modes) {
            const int index = mode_index(state.names, tapped.number);
            if (index < 0 || index >= state.modes.frequency_hz.size())
                continue;
            add({s, tapped.number, tapped.frequency_hz, state.modes.frequency_hz[index], 0.0},
                std::hypot(tapped.sd_hz, priors_.repeat * tapped.frequency_hz),
                state.by_unknown.col(index));
        }
        if (session.mass_g) {
            FitVector slope = FitVector::Zero();
            slope[k_density] = state.mass_g;
            const double area_mm2 = model_.node_area_mm2().cwiseProduct(model_.stretch()).sum();
            slope[k_thickness] = 1e-6 * area_mm2 * at.wood.left.density_kg_m3;
            add({s, k_mass_row, *session.mass_g, state.mass_g, 0.0}, priors_.mass * *session.mass_g,
                slope);
        }
        const Eigen::VectorXd h = (session.thickness_mm.array() + at.thickness_mm).matrix();
        for (const auto& flex : session.flexes) {
            const FlexValue value = flex_value(model_, h, at.arch_mm, at.wood, flex);
            FitVector slope = FitVector::Zero();
            slope.head<k_wood_factors>() = value.by_wood_mm;
            slope[k_arch] = value.by_arch_mm;
            slope[k_thickness] = value.by_thickness_mm;
            add({s, k_flex_row, flex.deflection_mm, value.deflection_mm, 0.0},
                std::hypot(flex.sd_mm, priors_.flex * flex.deflection_mm), slope);
        }
    }

    const PlateModel& model_;
    const PlateWood& start_;
    std::span<const FitSession> sessions_;
    const FitPriors& priors_;
    const std::function<bool()>& goes_on_;
    std::vector<Eigen::MatrixXd> shapes_;
    std::vector<FitResidual> rows_;
    std::vector<double> own_sd_;
    std::vector<FitVector> slopes_;
};

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
    case FitUnknown::density:
        return wording::say("density");
    case FitUnknown::arch:
        return wording::say("arch height");
    case FitUnknown::thickness:
        return wording::say("thickness");
    }
    return "";
}

// Says what would have to be wrong, where the fit is not to be believed.
void judge(PlateFit& fit, const FitVector& sd) {
    int farthest = 0;
    const FitVector away = fit.unknowns.cwiseQuotient(sd).cwiseAbs();
    away.maxCoeff(&farthest);
    const FitResidual* worst = nullptr;
    for (const auto& r : fit.residuals)
        if (r.number > 0 && (!worst || std::abs(r.deviations) > std::abs(worst->deviations)))
            worst = &r;
    const bool is_wild = worst && std::abs(worst->deviations) > k_wild_residual;
    fit.is_plausible = away[farthest] <= k_far && !is_wild;
    if (fit.is_plausible)
        return;
    fit.doubt = wording::say("No plausible wood gives these frequencies.");
    if (away[farthest] > k_far)
        fit.doubt +=
            " " +
            wording::say("It would have to be off by this much: {}, {}.",
                         name_of(static_cast<FitUnknown>(farthest)),
                         farthest < k_arch
                             ? wording::figure(100.0 * std::expm1(fit.unknowns[farthest]), 0) + " %"
                             : wording::figure(fit.unknowns[farthest], 2) + " mm");
    if (worst)
        fit.doubt +=
            " " + wording::say("{} fits worst (tapped {} Hz, model {} Hz).",
                               modes::mode_text(worst->number), wording::figure(worst->measured, 1),
                               wording::figure(worst->modelled, 1));
    fit.doubt += " ";
    fit.doubt +=
        wording::say("A mode may be named wrongly, or the thickness map, the arching or the "
                     "mass may not be this plate's.");
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

FittedState fitted_state(const PlateModel& model, const PlateFit& fit,
                         const Eigen::VectorXd& thickness_mm, const Eigen::MatrixXd& like) {
    constexpr int k_modes = 10;
    const Eigen::VectorXd h = (thickness_mm.array() + fit.thickness_mm).matrix();
    FittedState state;
    state.modes = model.shell().solve(model.surface(h, fit.arch_mm), model.shell_wood(fit.wood),
                                      k_modes, like);
    state.names = ShapeJudge(model).names(state.modes.shapes);
    const FitGradient g = fit_gradient(model, h, fit.arch_mm, fit.wood, state.modes);
    state.by_unknown.resize(k_fit_unknowns, k_modes);
    state.by_unknown.topRows<k_wood_factors>() = g.wood_hz;
    state.by_unknown.row(k_density) = -0.5 * state.modes.frequency_hz.transpose();
    state.by_unknown.row(k_arch) = g.arch_hz_per_mm;
    state.by_unknown.row(k_thickness) = g.thick_hz_per_mm;
    state.mass_g = model.mass_g(h, fit.wood);
    return state;
}

PlateFit fit_wood(const PlateModel& model, const PlateWood& start,
                  std::span<const FitSession> sessions, const FitPriors& priors,
                  const std::function<bool()>& goes_on) {
    PlateFit fit;
    fit.wood = start;
    const FitVector sd = prior_sd(priors);
    const FitMatrix prior = sd.cwiseAbs2().cwiseInverse().asDiagonal();
    fit.covariance = sd.cwiseAbs2().asDiagonal();
    Fitter fitter(model, start, sessions, priors, goes_on);
    FitVector unknowns = FitVector::Zero(), last_step = FitVector::Zero();
    std::optional<double> least;
    for (int round = 0; round < k_rounds; ++round) {
        const Observations o = fitter.observe(unknowns);
        if (o.rows.empty() && goes_on && !goes_on()) {
            fit.status = FitStatus::stopped;
            return fit;
        }
        if (std::none_of(o.rows.begin(), o.rows.end(),
                         [](const auto& r) { return r.number != k_mass_row; }))
            return fit;
        const Eigen::MatrixXd c = fitter.covariance(o);
        const Eigen::LLT<Eigen::MatrixXd> weigh(c);
        const Eigen::VectorXd off = o.measured - o.modelled;
        const double cost = off.dot(weigh.solve(off)) + unknowns.dot(prior * unknowns);
        if (least && cost > *least * (1.0 + k_worse)) { // too far, or a mode was taken for another
            unknowns = 0.5 * (unknowns + fit.unknowns);
            last_step *= 0.5;
            continue;
        }
        least = cost;
        const FitMatrix information = prior + FitMatrix(o.slope.transpose() * weigh.solve(o.slope));
        const FitVector pull = o.slope.transpose() * weigh.solve(off) - prior * unknowns;
        const FitVector step = held_back(information.ldlt().solve(pull), last_step, sd);
        last_step = step;
        fit.unknowns = unknowns;
        fit.covariance = information.inverse();
        fit.residuals = residuals_of(o, c);
        fit.status = FitStatus::not_settled;
        if (step.cwiseAbs().maxCoeff() < k_settled) {
            fit.status = FitStatus::ok;
            break;
        }
        unknowns += step;
        if (!is_physical(wood_at(start, unknowns).left) ||
            !is_physical(wood_at(start, unknowns).right)) {
            fit.status = FitStatus::impossible_wood;
            break;
        }
    }
    fit.wood = wood_at(start, fit.unknowns);
    fit.arch_mm = fit.unknowns[k_arch];
    fit.thickness_mm = fit.unknowns[k_thickness];
    judge(fit, sd);
    return fit;
}

} // namespace platewright::plate
