#pragma once
/// What a top has and a back has not: f-holes and bass bar.

#include "plate/shape/outline.hpp"

#include <optional>
#include <vector>

namespace platewright::plate {

/// The right f-hole as seen from the outside; the left one mirrors it. From the upper eye it curls
/// up and outwards, goes down the stem, and curls through its foot up into the lower eye, so that
/// beside each eye a tongue of wood is free on three sides. The curls' radii follow the height
/// between the eyes.
struct FHole {
    bool operator==(const FHole&) const = default;
    Point upper;          // middle of the upper eye
    Point lower;          // middle of the lower eye
    double slot_mm = 6.0; // width of the stem half way; 0.085 of the eyes' height apart at most
    double upper_eye_mm = 6.5;
    double lower_eye_mm = 8.5;
};

/// F-holes in the usual place for an outline of this size: the notches at 0.45 of the length from
/// the lower end (a body stop of 195 mm on 355, of 225 on 410; a cello's 0.47, 400 on 755), a
/// violin's 75 mm long with its upper eyes 42 mm apart. Common practice, no source; the shape of
/// the line is our own.
FHole usual_f_hole(const OutlineSize& size);

/// Both holes as loops for the mesh, counter-clockwise, right then left.
std::vector<Loop> f_hole_loops(const FHole& hole);

/// The same of a hole whose line is given: of the right hole alone, which the left one then
/// mirrors, or of both.
std::vector<Loop> f_hole_loops(std::vector<Loop> drawn);

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
