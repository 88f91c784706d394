#include "trends/drift/robust_line.hpp"

#include "base/stats.hpp"
#include "trends/drift/robust_weighing.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <stdexcept>

namespace platewright::trends {
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
    return scatter *
           std::sqrt(fresh + slope_variance * away * away + 2.0 * tilt * away + step_variance);
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

} // namespace platewright::trends
