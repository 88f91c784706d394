#pragma once
/// Least squares over strokes that together may go only so deep.

#include <Eigen/Core>

#include <utility>

namespace platewright::plate {

class DepthLimit {
public:
    /// depth: what each stroke adds to each depth that is limited, a row a depth, a column a
    /// stroke; room_mm: the most of each; stroke_mm: the most of one stroke.
    DepthLimit(Eigen::MatrixXd depth, Eigen::VectorXd room_mm, double stroke_mm)
        : depth_(std::move(depth)), room_mm_(std::move(room_mm)), stroke_mm_(stroke_mm) {}

    /// Depths x >= 0 of the strokes with least x.h.x / 2 - b.x for which no node goes deeper than
    /// it has room (nearly the least: where strokes overlap too deep their bounds are drawn in).
    Eigen::VectorXd minimise(const Eigen::MatrixXd& h, const Eigen::VectorXd& b,
                             const Eigen::VectorXd& start) const;

private:
    Eigen::VectorXd allowed(const Eigen::VectorXd& depths_mm) const;

    Eigen::MatrixXd depth_;
    Eigen::VectorXd room_mm_;
    double stroke_mm_;
};

} // namespace platewright::plate
