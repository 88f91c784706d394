#pragma once
#include "plot/axis.hpp"
#include "plot/canvas.hpp"
#include "plot/palette.hpp"

#include <string>
#include <vector>

namespace platewright::plot {

/// A line through data points; x ascending. Dense lines are thinned to the surface's resolution
/// with their peaks kept.
struct Curve {
    std::vector<Point> points = {}; // data units
    Pen pen = {};                   // width in surface units
    std::string name = {};          // in the key; empty: not listed
    std::string end_label = {};     // beside the last point; empty: none
};

/// The area between two lines that share their x.
struct Band {
    std::vector<Point> upper = {};
    std::vector<Point> lower = {};
    Colour colour = {};
    std::string name = {};
};

/// Separate points, each with an optional bar of `spread` up and down from it (data units).
struct Marks {
    std::vector<Point> at = {};
    std::vector<double> spread = {}; // empty, or as long as `at`; 0 draws no bar
    Shape shape = Shape::disc;
    double size = 9.0;
    Colour colour = {};
    std::string name = {};
};

/// An upright line at one x with words at its head: a mode's name, a stage of work. Heads that
/// would collide are stacked in rows.
struct Signpost {
    double x = 0.0;
    std::string words = {};
    Colour colour = {};
    Shape shape = Shape::ring;
    bool shaped = false; // a mark before the words
    Dash dash = Dash::dotted;
};

/// What a strip is about, and its figures: at its right, at the height of its line's end; above it
/// where the surface is narrow.
struct EndBlock {
    std::string name = {};
    Colour colour = {};
    Shape shape = Shape::ring;
    std::vector<std::string> lines = {};
};

/// A picture as data. Nothing here knows what it is drawn on. With strips it is those, one under
/// another over its own `across`, each with a scale of its own; of the rest its title, the title of
/// `up` and its signposts are drawn.
struct Chart {
    std::string title = {}; // empty: none
    Axis across = {};
    Axis up = {};
    std::vector<Band> bands = {};
    std::vector<Curve> curves = {}; // drawn in order, the last on top
    std::vector<Marks> marks = {};
    std::vector<Signpost> signposts = {};
    std::string when_empty =
        {}; // said in place of the picture when there is no curve, band or mark
    std::vector<Chart> strips = {};
    double share = 1.0; // of the height, among strips
    EndBlock end = {};  // of a strip
    bool empty() const {
        return curves.empty() && bands.empty() && marks.empty() && strips.empty();
    }
};

struct DrawStyle {
    double text_height = 14.0; // surface units; everything else follows it
    double line_scale = 1.0;   // pens are multiplied by this
};

/// Where the picture ended up, for reading values under a pointer.
struct Frame {
    Box inside; // of all strips together
    Scale across;
    Scale up; // of the first
    std::vector<Frame> strips = {};
};

/// Draws the chart in `area`. Text never leaves the area; the frame shrinks to make room.
/// Cost: linear in the points. Threads: any, one canvas per thread.
Frame draw(const Chart& chart, const Box& area, Canvas& canvas, const Palette& palette,
           const DrawStyle& style = {});

/// What a chart shows as a table that a spreadsheet takes: fields parted by tabs, a row a point,
/// with the maker's decimal mark; first a row with what the columns are. Curves, marks and
/// signposts, all of them and not only what is seen. In data units, 7 significant digits.
std::string chart_table(const Chart& chart);

} // namespace platewright::plot
