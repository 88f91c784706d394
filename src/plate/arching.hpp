#pragma once
/// The outer surface of a plate.

#include "plate/outline.hpp"
#include "plate/readings.hpp"
#include "plate/smooth_field.hpp"

#include <memory>
#include <optional>
#include <span>

namespace platewright::plate {

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
