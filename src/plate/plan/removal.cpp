#include "plate/plan/removal.hpp"

#include "plate/thickness/thickness.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace platewright::plate {
namespace {

constexpr double k_reach = 1.8; // of the width

double wendland(double r) {
    if (r >= 1.0)
        return 0.0;
    const double rest = 1.0 - r;
    return rest * rest * rest * rest * (4.0 * r + 1.0);
}

double smooth_step(double t) {
    const double s = std::clamp(t, 0.0, 1.0);
    return s * s * (3.0 - 2.0 * s);
}

double apart(Point a, Point b) { return std::hypot(a.x_mm - b.x_mm, a.y_mm - b.y_mm); }

} // namespace

RemovalBasis::RemovalBasis(const PlateModel& model, const StrokeField& field)
    : field_(field), outline_(model.form().outline), holes_(model.form().f_holes),
      bar_(model.form().bar) {
    if (!(field.width_mm > 0.0) || field.edge_mm < 0.0 || field.keep_mm < 0.0)
        throw std::invalid_argument("RemovalBasis: widths must not be negative");
    for (const auto& p : grid_inside(outline_, field.width_mm)) {
        const bool is_middle = std::abs(p.x_mm) < 1e-6;
        if ((field.symmetric && p.x_mm < -1e-6) || room(p) < 0.25)
            continue;
        strokes_.push_back({p, field.symmetric && !is_middle, 0.0});
    }
    at_nodes_.resize(static_cast<Eigen::Index>(model.nodes()),
                     static_cast<Eigen::Index>(strokes_.size()));
    for (Eigen::Index i = 0; i < at_nodes_.rows(); ++i) {
        const Point p = model.points()[static_cast<std::size_t>(i)];
        const double here = room(p);
        for (Eigen::Index j = 0; j < at_nodes_.cols(); ++j)
            at_nodes_(i, j) = here * hollow(strokes_[static_cast<std::size_t>(j)], p);
    }
    for (std::size_t a = 0; a < strokes_.size(); ++a)
        for (std::size_t b = 0; b < a; ++b)
            if (apart(strokes_[a].middle, strokes_[b].middle) < 1.2 * field.width_mm)
                neighbours_.emplace_back(static_cast<int>(b), static_cast<int>(a));
}

double RemovalBasis::hollow(const Stroke& stroke, Point p) const {
    const double reach = k_reach * field_.width_mm;
    double depth = wendland(apart(stroke.middle, p) / reach);
    if (stroke.mirrored)
        depth += wendland(apart({-stroke.middle.x_mm, stroke.middle.y_mm}, p) / reach);
    return depth;
}

// 0 where nothing is to be taken, 1 well away from it.
double RemovalBasis::room(Point p) const {
    if (!outline_.holds(p))
        return 0.0;
    const double ramp = 0.5 * field_.width_mm;
    double free = smooth_step((distance_mm(outline_.rim, p) - field_.edge_mm) / ramp);
    for (const auto& hole : holes_)
        free = contains(hole, p)
                   ? 0.0
                   : std::min(free, smooth_step((distance_mm(hole, p) - field_.keep_mm) / ramp));
    if (bar_) {
        const std::array<Point, 2> line{bar_->lower, bar_->upper};
        const double beside = distance_mm(line, p) - 0.5 * bar_->width_mm;
        free = std::min(free, smooth_step((beside - field_.keep_mm) / ramp));
    }
    for (const auto& place : field_.left_alone)
        free = std::min(free, smooth_step((apart(place, p) - field_.width_mm) / ramp));
    return free;
}

double RemovalBasis::depth_mm(Point p, const Eigen::VectorXd& depths_mm) const {
    double depth = 0.0;
    for (Eigen::Index j = 0; j < depths_mm.size(); ++j)
        if (depths_mm[j] > 0.0)
            depth += depths_mm[j] * hollow(strokes_[static_cast<std::size_t>(j)], p);
    return depth > 0.0 ? depth * room(p) : 0.0;
}

} // namespace platewright::plate
