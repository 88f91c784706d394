#pragma once
/// Wood to be taken off the inside, as a smooth sum of strokes.

#include "plate/plan/planned.hpp"
#include "plate/plate_model.hpp"

#include <vector>

namespace platewright::plate {

/// Where strokes may lie.
struct StrokeField {
    double width_mm = 30.0; // distance between strokes; a hollow reaches 1.8 times this far
    double edge_mm = 12.0;  // platform along the edge that is left alone
    double keep_mm = 6.0;   // round f-holes and the bar
    bool symmetric = true;
    std::vector<Point> left_alone; // further places with nothing taken within width_mm
};

/// The strokes that a plate has room for, and what each takes at any place.
/// Removal(p) = sum of depth * hollow(|p - middle| / (1.8 width)) * room(p), where hollow is
/// Wendland's (1 - r)^4 (4 r + 1) and room rises smoothly from 0 at the edge of what is left alone.
class RemovalBasis {
public:
    RemovalBasis(const PlateModel& model, const StrokeField& field);

    const std::vector<Stroke>& strokes() const { return strokes_; }
    /// Depth at each node for depth 1 of each stroke: a row a node, a column a stroke.
    const Eigen::MatrixXd& at_nodes() const { return at_nodes_; }
    /// Depth at any place (mm) for these depths of the strokes.
    double depth_mm(Point p, const Eigen::VectorXd& depths_mm) const;
    /// Pairs of neighbouring strokes.
    const std::vector<std::pair<int, int>>& neighbours() const { return neighbours_; }

private:
    double hollow(const Stroke& stroke, Point p) const;
    double room(Point p) const;

    StrokeField field_;
    Outline outline_;
    std::vector<Loop> holes_;
    std::optional<BassBar> bar_;
    std::vector<Stroke> strokes_;
    std::vector<std::pair<int, int>> neighbours_;
    Eigen::MatrixXd at_nodes_;
};

} // namespace platewright::plate
