#pragma once
/// What a maker measures on a plate, as plain values.

#include "plate/shape/point.hpp"

#include <string>

namespace platewright::plate {

/// One caliper reading, across the plate at a place.
struct ThicknessReading {
    bool operator==(const ThicknessReading&) const = default;
    Point at;
    double thickness_mm = 0.0;
    std::string name; // how the maker called the place; may be empty
};

/// A height read on the outside.
struct HeightReading {
    bool operator==(const HeightReading&) const = default;
    Point at;
    double height_mm = 0.0;
};

/// Heights of the OUTSIDE above the plane that the edge's underside lies in, as a maker measures
/// with the plate on a flat table: not of the middle surface.
struct ArchingProfile {
    bool operator==(const ArchingProfile&) const = default;
    double arch_mm = 15.0;       // greatest height
    double edge_mm = 4.0;        // height at the edge: the edge's thickness
    double long_fullness = 3.2;  // along: height falls as (1 - |t|^p)^m; greater is flatter on top
    double cross_fullness = 2.0; // across, the same
    double long_ends = 2.0;      // m: 2 comes level to the edge, 1 at a slope
    double cross_ends = 2.0;     // across, the same
};

} // namespace platewright::plate
