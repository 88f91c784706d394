#pragma once
/// What a top has and a back has not: f-holes and bass bar.

#include "plate/outline.hpp"

#include <array>
#include <optional>

namespace platewright::plate {

/// The right f-hole as seen from the outside; the left one mirrors it. A slot along an S from the
/// upper to the lower eye, both rounded.
struct FHole {
    bool operator==(const FHole&) const = default;
    Point upper;          // middle of the upper eye
    Point lower;          // middle of the lower eye
    double slot_mm = 6.0; // width half way
    double upper_eye_mm = 7.0;
    double lower_eye_mm = 9.0;
};

/// F-holes in the usual place for an outline of this size: the notches a little above the waist's
/// middle. Proportions of our own, near common practice (no source).
FHole usual_f_hole(const OutlineSize& size);

/// Both holes as loops for the mesh, right then left.
std::array<Loop, 2> f_hole_loops(const FHole& hole);

/// A bass bar: a straight rib on the inside, under the left (bass) foot of the bridge.
struct BassBar {
    bool operator==(const BassBar&) const = default;
    Point lower; // ends of its middle line, in plan
    Point upper;
    double width_mm = 5.5;
    double height_mm = 11.0; // greatest, below the plate's inside
    double end_height_mm = 2.0;
    double fullness = 2.0; // height falls as |t|^fullness towards the ends, t = -1..1
    std::optional<double> density_kg_m3 = std::nullopt; // of its wood, where not the plate's

    double height_at(double t) const; // t = 0 lower end, 1 upper end
};

/// A bar in the usual place (common practice, no source).
BassBar usual_bar(const OutlineSize& size);

} // namespace platewright::plate
