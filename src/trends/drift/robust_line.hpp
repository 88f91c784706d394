#pragma once
#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace platewright::trends {

/// A session's point; points are handed on in the order of time.
struct Point {
    double x = 0;
    double y = 0;
    bool is_marked = false; ///< more than scraping may have happened before it: another stage
};

struct Range {
    double low = 0;
    double high = 0;
};

/// What is held of odd points, of steps and of the level's wandering before any is seen. In the
/// units of y.
struct OddParams {
    double share = 0.1; ///< of points that are odd: a wet day, a wrong hold
    double reach = 0.1; ///< width within which an odd point, or a step, may lie about anywhere
    double resolution = 1e-6;       ///< scatter below this is not told apart
    double step_share = 0.03;       ///< of gaps at which the level steps and stays: a bar trimmed
    double marked_step_share = 0.2; ///< of those before a marked point
    bool wanders = true;            ///< the level, a little from point to point
    double usual_scatter = 0.0;     ///< standard deviation of such points, as it usually is
    double usual_freedom = 0.0;     ///< degrees of freedom that this is worth; 0: nothing is known
};

/// Where the level stepped, more likely than not.
struct Step {
    std::size_t before = 0; ///< index of the first point after it
    double size = 0;
};

/// A straight line through few points of which some may be odd, whose level may wander and step,
/// and what it says of the next ordinary point. y = level + slope x + normal scatter for the
/// ordinary points; which are odd, where the level stepped, and how far it wanders beside the
/// scatter is not decided but weighed: each way gives a least-squares slope and a present level by
/// Kalman's filter (P. de Jong, Annals of Statistics 19, 1991, from memory: the diffuse filter run
/// on y and on the regressors alike), weighted by its probability, and a new point is a mixture of
/// their Student distributions. So the level is that of the newest points, the slope that of all.
/// Source of the weighing: G. E. P. Box and G. C. Tiao, 'A Bayesian approach to some outlier
/// problems', Biometrika 55 (1968), from memory; flat priors on level, slope and step, and on the
/// scatter a scaled inverse chi-square of what it usually is (modes::moderated_variance; a flat one
/// on its logarithm where nothing is known): few points that lie on a line by luck don't make their
/// next one sure, and no new point is surer than one with the usual scatter. That is told by two
/// points of one x, so that a way which wanders has the less of it. In: at least 3 points, not all
/// at one x. At most 3 odd, no more than leave 3 ordinary points, among the 8 farthest from the
/// repeated-median line (A. F. Siegel, Biometrika 69, 1982); at most 2 steps, among the 4 largest.
/// The classic confusion: predict() is for a new measurement, wider than the band of the line.
/// Cost: some 10 ms for 60 points. Threads: pure.
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
    /// Steps that are likelier than not, ascending.
    [[nodiscard]] const std::vector<Step>& steps() const { return steps_; }
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
        double least_sd = 0; // of a new point
        double fresh = 1;    // variance of a new point beside slope and steps, in scatters squared
        double slope_variance = 0, tilt = 0, step_variance = 0; // of the line's own, likewise
        [[nodiscard]] double at(double x) const { return level + slope * (x - centre); }
        [[nodiscard]] double sd_of_new(double x) const;
    };
    class Weighing;

    std::vector<Part> parts_; // weights sum to 1
    std::vector<std::size_t> odd_;
    std::vector<Step> steps_;
};

/// How much of `present` (a mass, a thickness; above 0) must go until a new measurement lies past
/// `log_target` with this chance, by a line of logarithms; 0 when it does now, all of it when it
/// never does. Past: below where the line falls as it goes, else above.
double amount_to_reach(const RobustLine& line, double present, double log_target, double chance);

/// The chance of that once so much is gone.
double chance_past(const RobustLine& line, double left, double log_target);

} // namespace platewright::trends
