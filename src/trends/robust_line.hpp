#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

struct Point {
    double x = 0;
    double y = 0;
};

struct Range {
    double low = 0;
    double high = 0;
};

/// What is held of odd points before any is seen. In the units of y.
struct OddParams {
    double share = 0.1;       ///< of points that are odd: a wet day, a wrong hold
    double reach = 0.1;       ///< width within which an odd point may lie about anywhere
    double resolution = 1e-6; ///< scatter below this is not told apart
};

/// A straight line through few points of which some may be odd, and what it says of the next
/// ordinary one.
/// y = level + slope (x - centre) + normal scatter for the ordinary points; which are odd is not
/// decided but weighed: each set of odd points gives a least-squares line through the rest,
/// weighted by its probability, and a new point is a mixture of those lines' Student distributions.
/// Source: G. E. P. Box and G. C. Tiao, 'A Bayesian approach to some outlier problems', Biometrika
/// 55 (1968), from memory; flat priors on the line and the logarithm of its scatter. In: at least 3
/// points, not all at one x. At most 3 odd, no more than leave 3 ordinary points, among the 8
/// farthest from the repeated-median line (A. F. Siegel, Biometrika 69, 1982). The classic
/// confusion: predict() is for a new measurement, wider than the band of the line. Cost: below 1 ms
/// for 100 points. Threads: pure.
class RobustLine {
public:
    /// Nothing where the points do not allow a line.
    static std::optional<RobustLine> fit(std::span<const Point> points, const OddParams& odd = {});

    /// The line, its slope and their uncertainty, over all weighed lines.
    [[nodiscard]] double at(double x) const;
    [[nodiscard]] double slope() const;
    [[nodiscard]] double slope_sd() const;
    /// Standard deviation of one ordinary point about the line.
    [[nodiscard]] double scatter() const;
    /// Points that are odd rather than not, by index, ascending.
    [[nodiscard]] const std::vector<std::size_t>& odd() const { return odd_; }

    /// Probability that a new ordinary point at x lies below y.
    [[nodiscard]] double chance_below(double x, double y) const;
    /// Where it lies with probability `coverage`, 0..1; as much of the rest below as above.
    [[nodiscard]] Range predict(double x, double coverage) const;

private:
    struct Part {
        double weight = 0;
        double centre = 0, level = 0, slope = 0;
        double scatter = 0, freedom = 0;
        double spread_of_x = 0; // sum of (x - centre)^2 over its ordinary points
        [[nodiscard]] double at(double x) const { return level + slope * (x - centre); }
        [[nodiscard]] double sd_of_new(double x) const;
    };
    class Weighing;

    std::vector<Part> parts_; // weights sum to 1
    std::vector<std::size_t> odd_;
};

} // namespace platewright::trends
