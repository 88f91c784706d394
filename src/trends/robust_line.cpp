#include "trends/robust_line.hpp"

#include "base/stats.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>
#include <stdexcept>

namespace platewright::trends {
namespace {

constexpr std::size_t k_most_odd = 3;
constexpr std::size_t k_most_suspects = 8;
constexpr std::size_t k_fewest_ordinary = 3;
constexpr double k_negligible = 1e-4; // weight of a line that changes no figure shown

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

} // namespace

/// Goes through the sets of odd points and weighs the line through the rest of each.
class RobustLine::Weighing {
public:
    Weighing(std::span<const Point> points, std::vector<std::size_t> suspects,
             const OddParams& params)
        : points_{points}, suspects_{std::move(suspects)}, params_{params},
          is_odd_(points.size(), false) {
        const std::size_t spare = points.size() - k_fewest_ordinary;
        most_odd_ = params.share > 0.0 ? std::min({k_most_odd, (spare + 1) / 2, spare}) : 0;
        add_sets(0, 0);
    }

    std::optional<RobustLine> result() {
        if (parts_.empty())
            return std::nullopt;
        const double best = std::ranges::max_element(parts_, {}, &Part::weight)->weight;
        double sum = 0.0;
        for (Part& part : parts_)
            sum += part.weight = std::exp(part.weight - best);
        RobustLine line;
        std::vector<double> oddness(points_.size(), 0.0);
        for (std::size_t i = 0; i < parts_.size(); ++i) {
            parts_[i].weight /= sum;
            for (const std::size_t odd : sets_[i])
                oddness[odd] += parts_[i].weight;
            if (parts_[i].weight > k_negligible)
                line.parts_.push_back(parts_[i]);
        }
        double kept = 0.0;
        for (const Part& part : line.parts_)
            kept += part.weight;
        for (Part& part : line.parts_)
            part.weight /= kept;
        for (std::size_t i = 0; i < oddness.size(); ++i)
            if (oddness[i] > 0.5)
                line.odd_.push_back(i);
        return line;
    }

private:
    void add_sets(std::size_t from, std::size_t count) {
        if (const std::optional<Part> part = weigh(count)) {
            parts_.push_back(*part);
            sets_.push_back(odd_);
        }
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

    // Least squares through the ordinary points; `weight` is the logarithm of the set's
    // probability.
    [[nodiscard]] std::optional<Part> weigh(std::size_t odd_count) const {
        const auto count = static_cast<double>(points_.size() - odd_count);
        Part part;
        for_ordinary([&](const Point& point) {
            part.centre += point.x / count;
            part.level += point.y / count;
        });
        double products = 0.0;
        for_ordinary([&](const Point& point) {
            const double dx = point.x - part.centre;
            part.spread_of_x += dx * dx;
            products += dx * (point.y - part.level);
        });
        if (!(part.spread_of_x > 0.0))
            return std::nullopt;
        part.slope = products / part.spread_of_x;
        part.freedom = count - 2.0;
        double squares = count * params_.resolution * params_.resolution;
        for_ordinary([&](const Point& point) {
            const double residual = point.y - part.at(point.x);
            squares += residual * residual;
        });
        part.scatter = std::sqrt(squares / part.freedom);
        const double half = 0.5 * part.freedom;
        part.weight = base::log_gamma(half) - half * std::log(std::numbers::pi * squares) -
                      0.5 * std::log(count * part.spread_of_x) + count * std::log1p(-params_.share);
        if (odd_count > 0)
            part.weight += static_cast<double>(odd_count) * std::log(params_.share / params_.reach);
        return part;
    }

    template <class Use>
    void for_ordinary(Use use) const {
        for (std::size_t i = 0; i < points_.size(); ++i)
            if (!is_odd_[i])
                use(points_[i]);
    }

    std::span<const Point> points_;
    std::vector<std::size_t> suspects_;
    OddParams params_;
    std::size_t most_odd_ = 0;
    std::vector<bool> is_odd_;
    std::vector<std::size_t> odd_;
    std::vector<Part> parts_;
    std::vector<std::vector<std::size_t>> sets_;
};

std::optional<RobustLine> RobustLine::fit(std::span<const Point> points, const OddParams& odd) {
    const std::optional<double> slope = repeated_median_slope(points);
    if (points.size() < k_fewest_ordinary || !slope)
        return std::nullopt;
    std::vector<std::size_t> suspects = by_oddness(points, *slope);
    suspects.resize(std::min(suspects.size(), k_most_suspects));
    return Weighing{points, std::move(suspects), odd}.result();
}

double RobustLine::Part::sd_of_new(double x) const {
    const double away = x - centre;
    return scatter * std::sqrt(1.0 + 1.0 / (freedom + 2.0) + away * away / spread_of_x);
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
        variance += part.weight * (part.scatter * part.scatter / part.spread_of_x + apart * apart);
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
    for (const Part& part : parts_) {
        const double reach = base::student_quantile(1.0 - tail, part.freedom) * part.sd_of_new(x);
        outer.low = std::min(outer.low, part.at(x) - reach);
        outer.high = std::max(outer.high, part.at(x) + reach);
    }
    const auto quantile = [&](double chance) {
        double low = outer.low, high = outer.high;
        constexpr double k_close = 1e-9;
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

} // namespace platewright::trends
