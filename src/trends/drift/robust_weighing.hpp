#pragma once
#include "trends/drift/robust_line.hpp"

#include <Eigen/Core>

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

} // namespace platewright::trends
