#pragma once
/// Outlines of violin-family plates.

#include "base/result.hpp"
#include "modes/subject.hpp"
#include "plate/shape/polygon.hpp"

#include <string_view>

namespace platewright::plate {

/// What a maker measures with a rule: length of the body and the three widths.
struct OutlineSize {
    bool operator==(const OutlineSize&) const = default;
    double length_mm = 0.0;
    double upper_mm = 0.0; // greatest width of the upper bout
    double waist_mm = 0.0; // least width of the middle
    double lower_mm = 0.0; // greatest width of the lower bout
};

/// Lengths of a body or plate that are understood: a sixteenth violin to more than the longest
/// bass.
constexpr double k_shortest_mm = 100.0, k_longest_mm = 1400.0;

/// Usual full sizes (common practice, no source); `other` gives the violin's.
OutlineSize usual_size(modes::InstrumentKind kind);

/// A plate seen from its outside: closed line, counter-clockwise, with y = 0 at the lowest point.
struct Outline {
    Loop rim;
    OutlineSize size;        // as given, or as measured on the points
    double upper_y_mm = 0.0; // heights of the three widths
    double waist_y_mm = 0.0;
    double lower_y_mm = 0.0;
    Point moved; // what was added to points that were given: what is drawn beside them moves too

    double area_mm2() const { return signed_area_mm2(rim); }
    bool holds(Point p) const { return contains(rim, p); }
    /// Least and greatest x of the plate at this height; equal outside the plate.
    struct Extent {
        double left_mm = 0.0;
        double right_mm = 0.0;
    };
    Extent extent(double y_mm) const;
};

/// An outline of our own making through the four measures: six Bezier arcs a side, four corners.
/// Fault: a measure that is not positive, a waist wider than a bout, bouts wider than long.
base::Result<Outline> make_outline(const OutlineSize& size);

/// An outline from measured points, in the order in which they follow each other round the plate.
/// More than a thousand of them, as a traced scan has, are thinned to those from which no other
/// strays by more than 0.03 mm. The points are moved so that the lowest has y = 0 and the widest
/// place is centred on x = 0. Fault, naming the place: fewer than 8 points, sides that cross, no
/// area, a size that no plate of the family has (100 mm to 1400 mm long; points in inches or metres
/// end here).
base::Result<Outline> outline_from_points(std::vector<Point> points);

/// The places in `points` of those that are enough to draw the line: all of up to a thousand, else
/// those from which no other strays by more than 0.03 mm; more coarsely where there are too many.
std::vector<std::size_t> places_enough(const Loop& points);

/// One piece of points_of_csv (drawn_lines.hpp). Faults name the line.
base::Result<Outline> outline_from_csv(std::string_view text);

/// The one piece of pieces_of_svg_path (drawn_lines.hpp).
base::Result<Outline> outline_from_svg_path(std::string_view text);

/// The first path of an SVG drawing, as the one above. Fault: no path in it.
base::Result<Outline> outline_from_svg(std::string_view drawing);

} // namespace platewright::plate
