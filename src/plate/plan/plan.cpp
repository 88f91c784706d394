#include "plate/plan/plan.hpp"

#include "plate/fit/fit_inside.hpp"
#include "plate/plan/depth_limit.hpp"
#include "plate/plan/graduation.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr int k_most_rounds = 9;
constexpr double k_close_hz = 0.1;  // where the rounds stop
constexpr double k_round_hz = 0.02; // a round that gains less is the last

// How much a Hz off, a gram taken, and an uneven stroke weigh against each other.
constexpr double k_hz_off = 1.0 / (0.15 * 0.15);
constexpr double k_gram = 0.25;
// Below its target a mode can't be brought up again: there a Hz weighs as much more, in squares.
constexpr double k_beyond = 400.0;
constexpr double k_uneven = 0.4;
// A Hz by which the plates that may be differ: far less than a Hz off, so that the mean still meets
// the target, and enough to choose, of two ways, the one they agree on. The samples are few and the
// strokes many: more than this lays narrow hollows where just these few agree.
constexpr double k_hz_apart = 0.25;
// A scraper goes this much deeper than it is meant to, here and there (our own choice): no place
// comes below the least thickness then either.
constexpr double k_deeper = 1.2;
// The model's own error of a whole plan, beside a share of the shift: 54 sensitivities, 0.1 mm off
// a patch each, were 0.015 Hz off CalculiX (root mean square); a plan takes some three tenths off
// ten such places: 0.015 * 3 * sqrt(10).
constexpr double k_plan_error_hz = 0.14;

// The modes asked for, followed through the rounds.
struct Followed {
    std::vector<int> index;
    Eigen::VectorXd hz;
};

class Planner {
public:
    Planner(const PlateModel& model, const PlateFit& fit, const Eigen::VectorXd& thickness_mm,
            std::span<const PlanTarget> targets, const PlanLimits& limits, const Measurable& what,
            const PassShare& pass)
        : what_(what), pass_(pass), model_(model), fit_(fit), thickness_(thickness_mm),
          targets_(targets), limits_(limits), basis_(model, limits.field),
          now_(fitted_state(model, fit, thickness_mm)),
          sampled_(samples_at(model, fit, thickness_mm)), limit_(limits_on(model)),
          is_held_(targets.size()) {
        grams_ = basis_.at_nodes().transpose() * model.wood_g_per_mm(fit.wood);
        before_ = Eigen::VectorXd::Zero(grams_.size());
        if (limits.hollow_mm.size() > 0)
            before_ = as_strokes(basis_, limits.hollow_mm);
    }

    Plan run() {
        Plan plan;
        plan.depths_mm = Eigen::VectorXd::Zero(grams_.size());
        plan.removal_mm = plan.pass_mm = Eigen::VectorXd::Zero(thickness_.size());
        if (!start()) {
            plan.status = PlanStatus::modes_lost;
            return plan;
        }
        weigh_samples();
        ShellModes at = now_.modes;
        Followed followed = first_;
        Eigen::VectorXd best = plan.depths_mm;
        double best_cost = off(followed.hz);
        for (int round = 0; round < k_most_rounds && best_cost > 0.0; ++round) {
            const Eigen::VectorXd depths = improve(plan.depths_mm, at, followed);
            const ShellModes next = solve(depths, at.shapes);
            ++plan.solves;
            if (!follow_to(at, next, followed)) {
                plan.status = PlanStatus::modes_lost;
                break;
            }
            at = next;
            plan.depths_mm = depths;
            const Eigen::VectorXd hz = expected(followed.hz, depths);
            const double cost = off(hz);
            const bool is_better = cost < best_cost;
            const bool is_last =
                (cost < k_close_hz || best_cost - cost < k_round_hz) && !holds_what_is_beyond(hz);
            if (is_better) {
                best = depths;
                best_cost = cost;
            }
            if (is_last)
                break;
        }
        plan.depths_mm = best;
        finish(plan);
        return plan;
    }

private:
    // No place thinner than it may be, no hollow deeper below the smooth graduation.
    DepthLimit limits_on(const PlateModel& model) const {
        const Eigen::MatrixXd& at = basis_.at_nodes();
        const auto n = at.rows();
        Eigen::MatrixXd depth(2 * n, at.cols());
        Eigen::VectorXd room(2 * n);
        depth.topRows(n) = k_deeper * at;
        room.head(n) = (thickness_.array() - limits_.least_mm).cwiseMax(0.0);
        for (Eigen::Index j = 0; j < at.cols(); ++j)
            depth.col(j).tail(n) = hollows_mm(model, at.col(j), Eigen::VectorXd::Zero(n));
        room.tail(n).setConstant(limits_.deepest_mm);
        if (limits_.hollow_mm.size() >
            0) // in one deep enough what no scraper takes may be left over
            room.tail(n) = (room.tail(n) - limits_.hollow_mm).cwiseMax(0.5 * k_no_removal_mm);
        return {std::move(depth), std::move(room), limits_.deepest_mm};
    }

    bool start() {
        first_.hz.resize(static_cast<Eigen::Index>(targets_.size()));
        for (std::size_t k = 0; k < targets_.size(); ++k) {
            const int index = mode_index(now_.names, targets_[k].number);
            if (index < 0 || index >= now_.modes.frequency_hz.size())
                return false;
            first_.index.push_back(index);
            first_.hz[static_cast<Eigen::Index>(k)] = now_.modes.frequency_hz[index];
        }
        return true;
    }

    // How the plates that may be answer to strokes otherwise than the most probable one: the most
    // probable one is where the model is most easily pleased, and not what to rely on.
    void weigh_samples() {
        const auto strokes = grams_.size();
        beside_.assign(targets_.size(), Eigen::VectorXd::Zero(strokes));
        apart_.assign(targets_.size(), Eigen::MatrixXd(strokes, 0));
        here_ = basis_.at_nodes().transpose() *
                thinning_gradient(model_, fitted(thickness_), fit_.arch, fit_.wood, now_.modes);
        for (const PlateSample& sample : sampled_) {
            const Eigen::MatrixXd there =
                basis_.at_nodes().transpose() *
                thinning_gradient(model_, (thickness_.array() + sample.thickness_mm).matrix(),
                                  sample.arch, sample.wood, sample.modes);
            for (std::size_t k = 0; k < targets_.size(); ++k) {
                const int index = mode_index(sample.names, targets_[k].number);
                if (index < 0 || index >= there.cols())
                    continue;
                auto& apart = apart_[k];
                apart.conservativeResize(strokes, apart.cols() + 1);
                apart.rightCols<1>() = there.col(index) - here_.col(first_.index[k]);
            }
        }
        for (std::size_t k = 0; k < targets_.size(); ++k) {
            const auto count = static_cast<double>(apart_[k].cols());
            if (count < 2.0)
                continue;
            beside_[k] = apart_[k].rowwise().mean();
            apart_[k].colwise() -= beside_[k];
            apart_[k] /= std::sqrt(count - 1.0);
        }
    }
    // What the modes are expected to come to, over all plates that may be.
    Eigen::VectorXd expected(const Eigen::VectorXd& hz, const Eigen::VectorXd& depths) const {
        Eigen::VectorXd mean = hz;
        for (std::size_t k = 0; k < targets_.size(); ++k)
            mean[static_cast<Eigen::Index>(k)] += beside_[k].dot(depths);
        return mean;
    }

    // What each mode of the model should come to: the tapped one's wanted shift.
    double aim(std::size_t k) const {
        return first_.hz[static_cast<Eigen::Index>(k)] + targets_[k].want_hz - targets_[k].now_hz;
    }
    // What wood that is gone must not take a firm target below: its aim, or where it is already.
    double floor(std::size_t k) const {
        return std::min(aim(k), first_.hz[static_cast<Eigen::Index>(k)]);
    }
    // Greatest distance of a firm target; what lies beyond its floor counts by its weight.
    double off(const Eigen::VectorXd& hz) const {
        double worst = 0.0;
        for (std::size_t k = 0; k < targets_.size(); ++k)
            if (targets_[k].firmness >= 1.0)
                worst = std::max(worst, std::abs(hz[static_cast<Eigen::Index>(k)] - aim(k)) +
                                            std::sqrt(k_beyond) * beyond(k, hz));
        return worst;
    }
    double beyond(std::size_t k, const Eigen::VectorXd& hz) const {
        return std::max(0.0, floor(k) - k_met_hz - hz[static_cast<Eigen::Index>(k)]);
    }
    // Holds firm targets that came out beyond at their floors from now on: where not all can be met
    // the nearest is not to be had by going too far. Whether there was one.
    bool holds_what_is_beyond(const Eigen::VectorXd& hz) {
        bool is_new = false;
        for (std::size_t k = 0; k < targets_.size(); ++k)
            if (targets_[k].firmness >= 1.0 && !is_held_[k] && beyond(k, hz) > 0.0)
                is_held_[k] = is_new = true;
        return is_new;
    }

    Eigen::VectorXd with(const Eigen::VectorXd& depths) const {
        return thickness_ - basis_.at_nodes() * depths;
    }
    Eigen::VectorXd fitted(const Eigen::VectorXd& thickness) const {
        return (thickness.array() + fit_.thickness_mm).matrix();
    }
    ShellModes solve(const Eigen::VectorXd& depths, const Eigen::MatrixXd& like) const {
        return model_.solve(model_.surface(fitted(with(depths)), fit_.arch), fit_.wood,
                            static_cast<int>(now_.modes.frequency_hz.size()), like);
    }

    bool follow_to(const ShellModes& from, const ShellModes& to, Followed& followed) const {
        const auto pairs = follow(model_, from.shapes, to.shapes);
        for (std::size_t k = 0; k < followed.index.size(); ++k) {
            const int next = pairs[static_cast<std::size_t>(followed.index[k])];
            if (next < 0)
                return false;
            followed.index[k] = next;
            followed.hz[static_cast<Eigen::Index>(k)] = to.frequency_hz[next];
        }
        return true;
    }

    // One round: the linear picture at the wood taken so far.
    Eigen::VectorXd improve(const Eigen::VectorXd& depths, const ShellModes& at,
                            const Followed& followed) {
        const Eigen::MatrixXd gradient =
            thinning_gradient(model_, fitted(with(depths)), fit_.arch, fit_.wood, at);
        const auto n = grams_.size();
        Eigen::MatrixXd h = Eigen::MatrixXd::Zero(n, n);
        Eigen::VectorXd b = -k_gram * grams_;
        for (const auto& [p, q] : basis_.neighbours()) {
            h(p, p) += k_uneven;
            h(q, q) += k_uneven;
            h(p, q) -= k_uneven;
            h(q, p) -= k_uneven;
        }
        h.diagonal().array() += 0.1 * k_uneven;
        b -= h * before_; // of the hollows as they are to be in the end
        for (std::size_t k = 0; k < targets_.size(); ++k) {
            const Eigen::VectorXd alone =
                basis_.at_nodes().transpose() * gradient.col(followed.index[k]);
            const double wanted = (is_held_[k] ? floor(k) : aim(k)) -
                                  followed.hz[static_cast<Eigen::Index>(k)] + alone.dot(depths);
            const Eigen::VectorXd slope = alone + beside_[k];
            const double weight = k_hz_off * (is_held_[k] ? k_beyond : targets_[k].firmness);
            h += weight * slope * slope.transpose();
            b += weight * wanted * slope;
            h += k_hz_apart * targets_[k].firmness * apart_[k] * apart_[k].transpose();
        }
        return limit_.minimise(h, b, depths);
    }

    void finish(Plan& plan) const;
    struct Foreseen {
        std::vector<ShiftForecast> alone, over_all; // by the fit, and over the plates that may be
        std::vector<NextMeasurement> next;
    };
    Foreseen foresee(const Eigen::VectorXd& depths) const {
        std::vector<int> numbers;
        for (const auto& target : targets_)
            numbers.push_back(target.number);
        const auto then = fitted_state(model_, fit_, with(depths), now_.modes.shapes);
        auto over_all = forecast_over(model_, fit_, now_, then, sampled_, with(depths), numbers);
        widen(over_all, depths);
        auto next = next_measurements(model_, fit_, thickness_, now_, then, over_all, what_);
        return {forecast_shifts(model_, fit_, now_, then, numbers), std::move(over_all),
                std::move(next)};
    }
    void finish_pass(Plan& plan, const Foreseen& foreseen) const;
    // The model's own error is one of what each place does to a mode, up or down: of a mode that is
    // held it is far more than a part of its shift. Adds what forecast_shifts doesn't know.
    void widen(std::vector<ShiftForecast>& forecasts, const Eigen::VectorXd& depths) const {
        for (auto& f : forecasts)
            for (std::size_t k = 0; k < targets_.size(); ++k) {
                if (targets_[k].number != f.number)
                    continue;
                const Eigen::VectorXd parts = here_.col(first_.index[k]).cwiseProduct(depths);
                const double up = parts.cwiseMax(0.0).sum(), down = parts.cwiseMin(0.0).sum();
                const double more = up * up + down * down - (up + down) * (up + down);
                f.shift_sd_hz =
                    std::hypot(f.shift_sd_hz, k_shift_error * std::sqrt(std::max(0.0, more)),
                               depths.maxCoeff() > 0.0 ? k_plan_error_hz : 0.0);
            }
    }
    // A part of the way the plates that may be have parted by that part.
    std::vector<ShiftForecast> foresee_pass(const Eigen::VectorXd& depths, double share,
                                            const Foreseen& all) const {
        std::vector<int> numbers;
        for (const auto& f : all.alone)
            numbers.push_back(f.number);
        auto pass = forecast_shifts(
            model_, fit_, now_, fitted_state(model_, fit_, with(share * depths), now_.modes.shapes),
            numbers);
        for (auto& part : pass)
            for (std::size_t k = 0; k < all.alone.size(); ++k) {
                const ShiftForecast &alone = all.alone[k], &over = all.over_all[k];
                if (alone.number != part.number || !(alone.shift_sd_hz > 0.0))
                    continue;
                part.shift_hz += share * (over.shift_hz - alone.shift_hz);
                part.shift_sd_hz *= over.shift_sd_hz / alone.shift_sd_hz;
            }
        return pass;
    }

    const Measurable& what_;
    const PassShare& pass_;
    const PlateModel& model_;
    const PlateFit& fit_;
    const Eigen::VectorXd& thickness_;
    std::span<const PlanTarget> targets_;
    const PlanLimits& limits_;
    RemovalBasis basis_;
    FittedState now_;
    std::vector<PlateSample> sampled_;
    Followed first_;
    Eigen::MatrixXd here_;                // of the fit: Hz per mm of each stroke, a column a mode
    std::vector<Eigen::VectorXd> beside_; // Hz per mm of each stroke, a target each
    std::vector<Eigen::MatrixXd> apart_;  // a column a sample: its square is their covariance
    Eigen::VectorXd grams_;
    Eigen::VectorXd before_; // the hollows there are, as strokes
    DepthLimit limit_;
    std::vector<bool> is_held_; // at its floor, a target each
};

void Planner::finish(Plan& plan) const {
    plan.removal_mm = basis_.at_nodes() * plan.depths_mm;
    plan.wood_g = grams_.dot(plan.depths_mm);
    plan.deepest_mm = plan.removal_mm.maxCoeff();
    plan.thinnest_mm = (thickness_ - plan.removal_mm).minCoeff();
    const Foreseen foreseen = foresee(plan.depths_mm);
    plan.next = foreseen.next;
    bool are_met = true;
    for (std::size_t k = 0; k < targets_.size(); ++k) {
        const PlanTarget& target = targets_[k];
        const auto whole =
            std::ranges::find(foreseen.over_all, target.number, &ShiftForecast::number);
        if (whole == foreseen.over_all.end()) {
            plan.status = PlanStatus::modes_lost;
            continue;
        }
        PlanOutcome o{.number = target.number,
                      .now_hz = target.now_hz,
                      .want_hz = target.want_hz,
                      .firmness = target.firmness,
                      .after_hz = target.now_hz + whole->shift_hz,
                      .after_sd_hz = whole->shift_sd_hz};
        are_met = are_met && o.is_met();
        if (is_held_[k] && o.after_hz <= o.want_hz + k_met_hz) // the limits may hold it above
            plan.held.push_back(o.number);
        plan.outcomes.push_back(o);
    }
    if (are_met)
        plan.held.clear();
    finish_pass(plan, foreseen);
    if (plan.status != PlanStatus::modes_lost)
        plan.status = !are_met                            ? PlanStatus::not_reachable
                      : plan.deepest_mm < k_no_removal_mm ? PlanStatus::nothing_to_do
                                                          : PlanStatus::ok;
}

void Planner::finish_pass(Plan& plan, const Foreseen& foreseen) const {
    plan.pass_share = limits_.pass_share ? *limits_.pass_share
                      : pass_            ? std::clamp(pass_(plan.wood_g, plan.outcomes), 0.0, 1.0)
                                         : 1.0;
    plan.pass_mm = plan.pass_share * plan.removal_mm;
    const auto pass = foresee_pass(plan.depths_mm, plan.pass_share, foreseen);
    plan.solves += 2;
    const auto is_lost = [&](PlanOutcome& o) {
        const auto part = std::ranges::find(pass, o.number, &ShiftForecast::number);
        if (part == pass.end())
            return true;
        o.pass_hz = o.now_hz + part->shift_hz;
        o.pass_sd_hz = part->shift_sd_hz;
        return false;
    };
    if (std::erase_if(plan.outcomes, is_lost) > 0)
        plan.status = PlanStatus::modes_lost;
}

} // namespace

Plan make_plan(const PlateModel& model, const PlateFit& fit, const Eigen::VectorXd& thickness_mm,
               std::span<const PlanTarget> targets, const PlanLimits& limits,
               const Measurable& what, const PassShare& pass) {
    if (targets.empty())
        throw std::invalid_argument("make_plan: needs a target");
    for (const auto& target : targets)
        if (!(target.now_hz > 0.0) || !(target.want_hz > 0.0) || !(target.firmness > 0.0))
            throw std::invalid_argument("make_plan: a target needs frequencies and a firmness");
    if (limits.pass_share && !(*limits.pass_share > 0.0 && *limits.pass_share <= 1.0))
        throw std::invalid_argument("make_plan: a pass takes a share between 0 and 1");
    Plan plan = Planner(model, fit, thickness_mm, targets, limits, what, pass).run();
    describe(plan, fit);
    return plan;
}

} // namespace platewright::plate
