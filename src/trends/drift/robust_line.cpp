#include "trends/drift/robust_line.hpp"

#include "base/stats.hpp"
#include "modes/pool/consensus.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Core>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace platewright::trends {

/// Goes through the ways: sets of odd points, of steps, and the level's wandering; weighs the line
/// that each leads to (RobustLine).
class RobustLine::Weighing {
public:
    static constexpr std::size_t k_fewest_ordinary = 3;

    /// suspects: points that may be odd; gaps: points before which the level may step, ascending.
    Weighing(std::span<const Point> points, std::vector<std::size_t> suspects,
             std::vector<std::size_t> gaps, const OddParams& params);

    std::optional<RobustLine> result();

private:
    static constexpr std::size_t k_most_steps = 2;
    struct Way {
        Part part;
        std::vector<std::size_t> odd;
        std::vector<Step> steps;
    };
    // The columns that are filtered alike: y, x, and for each step 0 before and 1 after it.
    using Columns = Eigen::Matrix<double, 2 + k_most_steps, 1>;
    using Products = Eigen::Matrix<double, 2 + k_most_steps, 2 + k_most_steps>;
    // What is left of the filter: the present level of each column, its variance in scatters
    // squared, and the innovations' sums.
    struct Filtered {
        Columns level = Columns::Zero();
        double variance = 0.0;
        double log_variances = 0.0;
        Products products = Products::Zero();
    };

    void add_sets(std::size_t from, std::size_t count);
    void add_steps(std::size_t from);
    [[nodiscard]] std::size_t ordinary() const { return points_.size() - odd_.size(); }
    [[nodiscard]] Columns columns(std::size_t point) const;
    [[nodiscard]] Filtered filter(double wandering) const;
    void weigh(double wandering);
    [[nodiscard]] double log_prior() const;

    std::span<const Point> points_;
    std::vector<std::size_t> suspects_, gaps_;
    OddParams params_;
    std::size_t most_odd_ = 0;
    std::vector<bool> is_odd_;
    std::vector<std::size_t> odd_, steps_;
    std::vector<Way> ways_;
};

namespace {

constexpr std::size_t k_most_suspects = 8;
constexpr std::size_t k_most_suspect_gaps = 4;

// Siegel's slope: the median over points of the median slope to all others.
std::optional<double> repeated_median_slope(std::span<const Point> points) {
    std::vector<double> medians;
    for (const Point& a : points) {
        std::vector<double> slopes;
        for (const Point& b : points)
            if (a.x != b.x)
                slopes.push_back((b.y - a.y) / (b.x - a.x));
        if (!slopes.empty())
            medians.push_back(base::median(slopes));
    }
    if (medians.empty())
        return std::nullopt;
    return base::median(medians);
}

// Indices, the point farthest from the repeated-median line first.
std::vector<std::size_t> by_oddness(std::span<const Point> points, double slope) {
    std::vector<double> heights;
    for (const Point& point : points)
        heights.push_back(point.y - slope * point.x);
    const double level = base::median(heights);
    std::vector<std::size_t> order(points.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        return std::abs(heights[a] - level) > std::abs(heights[b] - level);
    });
    return order;
}

// Indices of the points before which the level leaps most, marked ones first.
std::vector<std::size_t> by_leap(std::span<const Point> points, double slope) {
    const auto leap = [&](std::size_t i) {
        return std::abs(points[i].y - points[i - 1].y - slope * (points[i].x - points[i - 1].x));
    };
    std::vector<std::size_t> order(points.size() - 1);
    std::iota(order.begin(), order.end(), std::size_t{1});
    std::ranges::stable_sort(order, [&](std::size_t a, std::size_t b) {
        return points[a].is_marked != points[b].is_marked ? points[a].is_marked : leap(a) > leap(b);
    });
    return order;
}

} // namespace

std::optional<RobustLine> RobustLine::fit(std::span<const Point> points, const OddParams& odd) {
    const std::optional<double> slope = repeated_median_slope(points);
    if (points.size() < Weighing::k_fewest_ordinary || !slope)
        return std::nullopt;
    std::vector<std::size_t> suspects = by_oddness(points, *slope);
    suspects.resize(std::min(suspects.size(), k_most_suspects));
    std::vector<std::size_t> gaps;
    if (odd.step_share > 0.0)
        gaps = by_leap(points, *slope);
    gaps.resize(std::min(gaps.size(), k_most_suspect_gaps));
    std::ranges::sort(gaps);
    return Weighing{points, std::move(suspects), std::move(gaps), odd}.result();
}

double RobustLine::Part::sd_of_new(double x) const {
    const double away = x - centre;
    const double variance =
        fresh + slope_variance * away * away + 2.0 * tilt * away + step_variance;
    return std::max(least_sd, scatter * std::sqrt(variance));
}

double RobustLine::at(double x) const {
    double sum = 0.0;
    for (const Part& part : parts_)
        sum += part.weight * part.at(x);
    return sum;
}

double RobustLine::slope() const {
    double sum = 0.0;
    for (const Part& part : parts_)
        sum += part.weight * part.slope;
    return sum;
}

double RobustLine::slope_sd() const {
    const double mean = slope();
    double variance = 0.0;
    for (const Part& part : parts_) {
        const double apart = part.slope - mean;
        variance +=
            part.weight * (part.scatter * part.scatter * part.slope_variance + apart * apart);
    }
    return std::sqrt(variance);
}

double RobustLine::scatter() const {
    double variance = 0.0;
    for (const Part& part : parts_)
        variance += part.weight * part.scatter * part.scatter;
    return std::sqrt(variance);
}

double RobustLine::chance_below(double x, double y) const {
    double chance = 0.0;
    for (const Part& part : parts_)
        chance +=
            part.weight * base::student_below((y - part.at(x)) / part.sd_of_new(x), part.freedom);
    return chance;
}

Range RobustLine::predict(double x, double coverage) const {
    if (!(coverage > 0.0 && coverage < 1.0))
        throw std::invalid_argument{"coverage lies between 0 and 1"};
    const double tail = 0.5 * (1.0 - coverage);
    // Every line's own interval ends beyond or within the mixture's: the outermost enclose it.
    Range outer{at(x), at(x)};
    std::map<double, double> quantiles; // by freedom: few differ
    for (const Part& part : parts_) {
        double& deviations = quantiles[part.freedom];
        if (deviations == 0.0)
            deviations = base::student_quantile(1.0 - tail, part.freedom);
        const double reach = deviations * part.sd_of_new(x);
        outer.low = std::min(outer.low, part.at(x) - reach);
        outer.high = std::max(outer.high, part.at(x) + reach);
    }
    const auto quantile = [&](double chance) {
        double low = outer.low, high = outer.high;
        constexpr double k_close = 1e-7;
        while (high - low > k_close * (outer.high - outer.low)) {
            const double middle = 0.5 * (low + high);
            if (middle <= low || middle >= high)
                break;
            (chance_below(x, middle) < chance ? low : high) = middle;
        }
        return 0.5 * (low + high);
    };
    return {quantile(tail), quantile(1.0 - tail)};
}

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
    // What is usual between two sessions is of scatter and wandering together.
    const double usual = params_.usual_scatter * params_.usual_scatter * 2.0 / (2.0 + wandering);
    const double seen = std::max(0.0, f.products(0, 0) - right.dot(found)) +
                        count * params_.resolution * params_.resolution;
    const double squares = params_.usual_freedom * usual + seen;
    Way way{{}, odd_, {}};
    Part& part = way.part;
    const double of_these = count - 1.0 - static_cast<double>(unknowns);
    part.freedom = params_.usual_freedom + of_these;
    part.scatter = std::sqrt(
        modes::moderated_variance(seen / of_these, of_these, usual, params_.usual_freedom));
    part.least_sd = params_.usual_freedom > 0.0 ? params_.usual_scatter : 0.0;
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
    part.weight = base::log_gamma(half) - 0.5 * of_these * std::log(std::numbers::pi) -
                  half * std::log(squares) - 0.5 * (f.log_variances + pivots.array().log().sum()) +
                  log_prior();
    if (params_.usual_freedom > 0.0)
        part.weight += 0.5 * params_.usual_freedom * std::log(usual);
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

double chance_past(const RobustLine& line, double left, double log_target) {
    const double below = line.chance_below(std::log(left), log_target);
    return line.slope() > 0.0 ? below : 1.0 - below;
}

double amount_to_reach(const RobustLine& line, double present, double log_target, double chance) {
    const auto reached = [&](double gone) {
        return chance_past(line, present - gone, log_target) >= chance;
    };
    if (reached(0.0))
        return 0.0;
    // In steps first: beyond the data the interval widens, and the chance may fall again.
    constexpr int k_steps = 400;
    double none = 0.0;
    for (int i = 1; i < k_steps; ++i) {
        double enough = present * i / k_steps;
        if (!reached(enough)) {
            none = enough;
            continue;
        }
        for (int halving = 0; halving < 40; ++halving) {
            const double middle = 0.5 * (none + enough);
            (reached(middle) ? enough : none) = middle;
        }
        return enough;
    }
    return present;
}

} // namespace platewright::trends
