#include "trends/drift/robust_weighing.hpp"

#include "base/stats.hpp"

#include <Eigen/Cholesky>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace platewright::trends {
namespace {

constexpr std::size_t k_most_odd = 3;
// Variance that the level gains from point to point, over that of the scatter.
constexpr std::array k_wanderings{0.0, 0.3, 1.0, 4.0};
constexpr double k_negligible = 1e-4; // weight of a line that changes no figure shown

} // namespace

RobustLine::Weighing::Weighing(std::span<const Point> points, std::vector<std::size_t> suspects,
                               std::vector<std::size_t> gaps, const OddParams& params)
    : points_{points}, suspects_{std::move(suspects)}, gaps_{std::move(gaps)}, params_{params},
      is_odd_(points.size(), false) {
    const std::size_t spare = points.size() - k_fewest_ordinary;
    most_odd_ = params.share > 0.0 ? std::min({k_most_odd, (spare + 1) / 2, spare}) : 0;
    add_sets(0, 0);
}

std::optional<RobustLine> RobustLine::Weighing::result() {
    if (ways_.empty())
        return std::nullopt;
    double best = ways_.front().part.weight, sum = 0.0;
    for (const Way& way : ways_)
        best = std::max(best, way.part.weight);
    for (Way& way : ways_)
        sum += way.part.weight = std::exp(way.part.weight - best);
    RobustLine line;
    std::vector<double> oddness(points_.size(), 0.0), stepped(points_.size(), 0.0),
        size(points_.size(), 0.0);
    double kept = 0.0;
    for (Way& way : ways_) {
        way.part.weight /= sum;
        for (const std::size_t odd : way.odd)
            oddness[odd] += way.part.weight;
        for (const Step& step : way.steps) {
            stepped[step.before] += way.part.weight;
            size[step.before] += way.part.weight * step.size;
        }
        if (way.part.weight > k_negligible) {
            line.parts_.push_back(way.part);
            kept += way.part.weight;
        }
    }
    for (Part& part : line.parts_)
        part.weight /= kept;
    for (std::size_t i = 0; i < points_.size(); ++i) {
        if (oddness[i] > 0.5)
            line.odd_.push_back(i);
        if (stepped[i] > 0.5)
            line.steps_.push_back({i, size[i] / stepped[i]});
    }
    return line;
}

void RobustLine::Weighing::add_sets(std::size_t from, std::size_t count) {
    add_steps(0);
    if (count == most_odd_)
        return;
    for (std::size_t i = from; i < suspects_.size(); ++i) {
        is_odd_[suspects_[i]] = true;
        odd_.push_back(suspects_[i]);
        add_sets(i + 1, count + 1);
        odd_.pop_back();
        is_odd_[suspects_[i]] = false;
    }
}

void RobustLine::Weighing::add_steps(std::size_t from) {
    for (const double wandering : k_wanderings)
        if (wandering == 0.0 || (params_.wanders && steps_.size() + 3 < ordinary()))
            weigh(wandering);
    // Many odd points and steps together explain anything.
    if (steps_.size() + odd_.size() >= k_most_steps || steps_.size() + 4 >= ordinary())
        return;
    for (std::size_t i = from; i < gaps_.size(); ++i) {
        steps_.push_back(gaps_[i]);
        add_steps(i + 1);
        steps_.pop_back();
    }
}

RobustLine::Weighing::Columns RobustLine::Weighing::columns(std::size_t point) const {
    Columns values = Columns::Zero();
    values[0] = points_[point].y;
    values[1] = points_[point].x;
    for (std::size_t s = 0; s < steps_.size(); ++s)
        values[static_cast<Eigen::Index>(2 + s)] = point >= steps_[s] ? 1.0 : 0.0;
    return values;
}

RobustLine::Weighing::Filtered RobustLine::Weighing::filter(double wandering) const {
    Filtered f;
    bool has_begun = false;
    for (std::size_t i = 0; i < points_.size(); ++i) {
        f.variance += wandering;
        if (is_odd_[i])
            continue;
        if (!has_begun) {
            has_begun = true;
            f.level = columns(i);
            f.variance = 1.0;
            continue;
        }
        const double all = f.variance + 1.0;
        const Columns innovation = columns(i) - f.level;
        f.products += innovation * innovation.transpose() / all;
        f.log_variances += std::log(all);
        f.level += f.variance / all * innovation;
        f.variance /= all;
    }
    return f;
}

// Least squares on the innovations; the weight is the logarithm of the way's probability.
void RobustLine::Weighing::weigh(double wandering) {
    const auto unknowns = static_cast<Eigen::Index>(1 + steps_.size());
    using Square = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, 0, 1 + k_most_steps,
                                 1 + k_most_steps>;
    using Column = Eigen::Matrix<double, Eigen::Dynamic, 1, 0, 1 + k_most_steps, 1>;
    const Filtered f = filter(wandering);
    const Square normal = f.products.block(1, 1, unknowns, unknowns);
    const Eigen::LDLT<Square> factored(normal);
    const Column pivots = factored.vectorD();
    if (!(normal(0, 0) > 0.0) || !(pivots.minCoeff() > 1e-12 * pivots.maxCoeff()))
        return;
    const Column right = f.products.block(1, 0, unknowns, 1);
    const Column found = factored.solve(right);
    const auto count = static_cast<double>(ordinary());
    const double squares = std::max(0.0, f.products(0, 0) - right.dot(found)) +
                           count * params_.resolution * params_.resolution;
    Way way{{}, odd_, {}};
    Part& part = way.part;
    part.freedom = count - 1.0 - static_cast<double>(unknowns);
    part.scatter = std::sqrt(squares / part.freedom);
    part.centre = f.level[1];
    part.slope = found[0];
    part.level = f.level[0];
    Column after = Column::Zero(unknowns); // of the steps: what the present level has not seen
    for (Eigen::Index s = 1; s < unknowns; ++s) {
        after[s] = 1.0 - f.level[1 + s];
        part.level += found[s] * after[s];
        way.steps.push_back({steps_[static_cast<std::size_t>(s - 1)], found[s]});
    }
    part.fresh = f.variance + wandering + 1.0;
    const Square inverse = factored.solve(Square::Identity(unknowns, unknowns));
    part.slope_variance = inverse(0, 0);
    part.tilt = inverse.row(0).dot(after);
    part.step_variance = after.dot(inverse * after);
    const double half = 0.5 * part.freedom;
    part.weight = base::log_gamma(half) - half * std::log(std::numbers::pi * squares) -
                  0.5 * (f.log_variances + pivots.array().log().sum()) + log_prior();
    ways_.push_back(std::move(way));
}

double RobustLine::Weighing::log_prior() const {
    double sum = static_cast<double>(ordinary()) * std::log1p(-params_.share);
    if (!odd_.empty())
        sum += static_cast<double>(odd_.size()) * std::log(params_.share / params_.reach);
    for (const std::size_t step : steps_) {
        const double share =
            points_[step].is_marked ? params_.marked_step_share : params_.step_share;
        sum += std::log(share / (1.0 - share) / params_.reach);
    }
    return sum;
}

} // namespace platewright::trends
