#pragma once
/// The outer surface of a plate.

#include "plate/outline.hpp"
#include "plate/smooth_field.hpp"

#include <memory>
#include <optional>
#include <span>

namespace platewright::plate {

/// Heights of the OUTSIDE above the plane that the edge's underside lies in, as a maker measures
/// with the plate on a flat table: not of the middle surface.
struct ArchingProfile {
    double arch_mm = 15.0;       // greatest height
    double edge_mm = 4.0;        // height at the edge: the edge's thickness
    double long_fullness = 2.6;  // along: height falls as (1 - |t|^p)^2; greater is flatter on top
    double cross_fullness = 2.0; // across, the same
};

/// A height read on the outside.
struct HeightReading {
    Point at;
    double height_mm = 0.0;
};

/// The outer surface as a function of the place. The cross arch follows the width of the outline
/// smoothed along the length, so that corners lie in the flat of the edge.
/// Height = edge + (arch - edge) * (1 - |t|^p)^2 * (1 - |s|^q)^2 with t, s = -1..1 along and
/// across; with readings, plus a smooth surface through what they differ by. Threads: pure once
/// made. Copies share their tables.
class Arching {
public:
    Arching(const Outline& outline, const ArchingProfile& profile,
            std::span<const HeightReading> readings = {});

    double height_mm(Point p) const;
    /// z of the unit normal of the outer surface, in (0, 1].
    double normal_z(Point p) const;
    const ArchingProfile& profile() const { return profile_; }

private:
    double profile_height(Point p) const;

    ArchingProfile profile_;
    double length_mm_ = 0.0;
    std::vector<double> middle_mm_, half_mm_; // a value each k_step_mm along the length
    std::shared_ptr<const SmoothField> difference_;
};

} // namespace platewright::plate
