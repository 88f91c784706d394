#pragma once
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace platewright::plot {

/// A place on the drawing surface. Units: pixels or points, x to the right, y downwards.
struct Point {
    double x = 0.0;
    double y = 0.0;
};

/// An upright rectangle on the drawing surface; right > left and bottom > top when it has an
/// inside.
struct Box {
    double left = 0.0;
    double top = 0.0;
    double right = 0.0;
    double bottom = 0.0;
    double width() const { return right - left; }
    double height() const { return bottom - top; }
    bool holds(Point p) const { return p.x >= left && p.x <= right && p.y >= top && p.y <= bottom; }
};

struct Size {
    double width = 0.0;
    double height = 0.0;
};

/// Straight (not premultiplied) sRGB with opacity, 0–255 each.
struct Colour {
    std::uint8_t red = 0;
    std::uint8_t green = 0;
    std::uint8_t blue = 0;
    std::uint8_t opacity = 255;
    bool operator==(const Colour&) const = default;
    /// The same colour with another opacity, 0 (unseen) to 1 (solid).
    Colour faded(double opacity_0_1) const;
    /// What is seen where this colour, this faded, lies over a solid one.
    Colour over(Colour ground, double opacity_0_1) const;
};

/// Every series bears a shape as well as a colour, so that none is told by colour alone.
enum class Shape { disc, diamond, triangle, square, cross, ring };

enum class Dash { solid, dashed, dotted };

struct Pen {
    Colour colour = {};
    double width = 1.0; // surface units
    Dash dash = Dash::solid;
};

enum class Across { left, centre, right };
enum class Upright { top, middle, bottom };
enum class Weight { regular, bold };

/// How a line of text stands to the point it is given.
struct Lettering {
    Colour colour = {};
    double height = 14.0; // font size, surface units
    Across across = Across::left;
    Upright upright = Upright::middle;
    Weight weight = Weight::regular;
};

/// What a chart is drawn on: a window, a page, or a test's notebook. Nine verbs, and no state
/// but the clipping, which `keep_inside` sets and `keep_all` ends (they do not nest).
/// Text is UTF-8. Threads: one canvas is used by one thread.
class Canvas {
public:
    virtual ~Canvas() = default;

    virtual void polyline(std::span<const Point> points, const Pen& pen) = 0;
    /// The area between two lines with the same x in both; spans of equal length.
    virtual void ribbon(std::span<const Point> upper, std::span<const Point> lower,
                        Colour colour) = 0;
    /// Convex pieces that touch but do not overlap, all turning the same way, filled as one area
    /// without seams between them.
    virtual void area(std::span<const std::vector<Point>> pieces, Colour colour) = 0;
    virtual void box(const Box& box, Colour colour, double corner_radius = 0.0) = 0;
    /// A solid mark (rings are drawn as rings), `size` across.
    virtual void mark(Point centre, Shape shape, double size, Colour colour) = 0;
    virtual void text(Point at, std::string_view words, const Lettering& lettering) = 0;
    virtual Size measure(std::string_view words, double height, Weight weight) const = 0;
    virtual void keep_inside(const Box& box) = 0;
    virtual void keep_all() = 0;

protected:
    Canvas() = default;
    Canvas(const Canvas&) = default;
    Canvas& operator=(const Canvas&) = default;
};

/// Corners of a convex or star-shaped mark, in order; discs and rings have none.
std::vector<Point> corners(Shape shape, Point centre, double size);

/// A line with no more points than the surface can show: in each column one unit wide the first,
/// lowest, highest and last point stay, so that no peak is lost or made lower.
/// In: surface units, x ascending. Out: at most 4 points a column, in the order of the line.
std::vector<Point> thin(const std::vector<Point>& line);

/// A line without the points that lie within `tolerance` of the straight way between those that
/// stay; its ends stay. In: any line, surface units, `tolerance` > 0. After Williams' cone of
/// directions (docs/sources.md#williams). Cost: O(n). Pure.
std::vector<Point> straightened(std::span<const Point> line, double tolerance);

} // namespace platewright::plot
