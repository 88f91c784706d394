#include "plot/chart.hpp"

#include "plot/canvas.hpp"
#include "plot/layout.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace platewright::plot {
namespace {

/// One drawing of one chart: what every step below needs to have at hand.
struct ChartDrawing {
    const Chart& chart;
    Canvas& canvas;
    const Palette& palette;
    double em; // text height
    double line_scale;
    Frame frame;
    Layout layout;

    Point place(Point data) const { return {frame.across.place(data.x), frame.up.place(data.y)}; }
    std::vector<Point> place(const std::vector<Point>& data) const {
        std::vector<Point> placed;
        placed.reserve(data.size());
        for (const Point p : data) {
            placed.push_back(place(p));
        }
        return placed;
    }
    Pen pen(const Pen& wanted) const {
        return {wanted.colour, wanted.width * line_scale, wanted.dash};
    }
    void line(Point from, Point to, const Pen& with) const {
        const std::array<Point, 2> ends{from, to};
        canvas.polyline(ends, pen(with));
    }
};

void draw_grid(const ChartDrawing& d) {
    const Box& in = d.frame.inside;
    d.canvas.box(in, d.palette.panel);
    const Pen grid{d.palette.line, 1.0, Dash::solid};
    double last = in.bottom + 9.0 * d.em;
    for (const Tick& tick : d.layout.up_ticks) { // ascending, so that each stands above the last
        const double y = d.frame.up.place(tick.at);
        d.line({in.left, y}, {in.right, y}, grid);
        if (std::abs(last - y) < 1.1 * d.em) {
            continue; // its words have no room; its line shows it
        }
        last = y;
        d.canvas.text({in.left - 0.5 * d.em, y}, tick.words,
                      {.colour = d.palette.faint_ink, .height = d.em, .across = Across::right});
    }
    for (const Tick& tick : d.layout.across_ticks) {
        const double x = d.frame.across.place(tick.at);
        d.line({x, in.top}, {x, in.bottom}, grid);
        if (!d.layout.bears_across) {
            continue;
        }
        const double half = 0.5 * d.canvas.measure(tick.words, d.em, Weight::regular).width;
        const double kept = std::clamp(x, d.layout.area.left + half, d.layout.area.right - half);
        d.canvas.text({kept, in.bottom + 0.6 * d.em}, tick.words,
                      {.colour = d.palette.faint_ink,
                       .height = d.em,
                       .across = Across::centre,
                       .upright = Upright::top});
    }
}

void draw_titles(const ChartDrawing& d) {
    const Box& area = d.layout.area;
    if (!d.chart.title.empty()) { // smaller where the area is narrower than its words
        const double full = 1.2 * d.em;
        const double width = d.canvas.measure(d.chart.title, full, Weight::bold).width;
        d.canvas.text({area.left, area.top}, d.chart.title,
                      {.colour = d.palette.ink,
                       .height = full * std::min(1.0, area.width() / std::max(width, 1.0)),
                       .upright = Upright::top,
                       .weight = Weight::bold});
    }
    d.canvas.text({d.layout.up_title.x, d.layout.up_title.y}, d.chart.up.title,
                  {.colour = d.palette.faint_ink, .height = d.em, .upright = Upright::top});
    if (!d.layout.bears_across) {
        return;
    }
    d.canvas.text({d.frame.inside.right, area.bottom}, d.chart.across.title,
                  {.colour = d.palette.faint_ink,
                   .height = d.em,
                   .across = Across::right,
                   .upright = Upright::bottom});
}

void draw_key(const ChartDrawing& d) {
    for (const KeyPlace& place : d.layout.key) {
        const Point at = place.at;
        switch (place.kind) {
        case KeyKind::line:
            d.line({at.x, at.y}, {at.x + 1.4 * d.em, at.y}, place.pen);
            break;
        case KeyKind::area:
            d.canvas.box({at.x, at.y - 0.4 * d.em, at.x + 1.4 * d.em, at.y + 0.4 * d.em},
                         place.pen.colour);
            break;
        case KeyKind::mark:
            d.canvas.mark({at.x + 0.7 * d.em, at.y}, place.shape, 0.75 * d.em, place.pen.colour);
            break;
        }
        d.canvas.text({at.x + 1.8 * d.em, at.y}, place.words,
                      {.colour = d.palette.ink, .height = d.em});
    }
}

void draw_signposts(const ChartDrawing& d) {
    for (const HeadPlace& head : d.layout.heads) {
        const Signpost& post = d.chart.signposts[head.index];
        const double x = d.frame.across.place(post.x);
        const double from = post.words.empty() ? d.frame.inside.top : head.at.y + 0.6 * d.em;
        d.line({x, from}, {x, d.frame.inside.bottom}, {post.colour, 1.2, post.dash});
        double words_x = head.at.x;
        if (post.shaped) {
            d.canvas.mark({words_x + 0.4 * d.em, head.at.y}, post.shape, 0.75 * d.em, post.colour);
            words_x += d.em;
        }
        d.canvas.text({words_x, head.at.y}, post.words,
                      {.colour = post.colour, .height = d.em, .weight = Weight::bold});
    }
}

void draw_marks(const ChartDrawing& d, const Marks& marks) {
    for (std::size_t i = 0; i < marks.at.size(); ++i) {
        const Point at = marks.at[i];
        if (i < marks.spread.size() && marks.spread[i] > 0.0) {
            const Point high = d.place({at.x, at.y + marks.spread[i]});
            const Point low = d.place({at.x, at.y - marks.spread[i]});
            const Pen bar{marks.colour, 1.5, Dash::solid};
            const double cap = 0.3 * d.em;
            d.line(high, low, bar);
            d.line({high.x - cap, high.y}, {high.x + cap, high.y}, bar);
            d.line({low.x - cap, low.y}, {low.x + cap, low.y}, bar);
        }
        d.canvas.mark(d.place(at), marks.shape, marks.size * d.line_scale, marks.colour);
    }
}

void draw_data(const ChartDrawing& d) {
    d.canvas.keep_inside(d.frame.inside);
    for (const Band& band : d.chart.bands) {
        d.canvas.ribbon(d.place(band.upper), d.place(band.lower), band.colour);
    }
    for (const Curve& curve : d.chart.curves) {
        d.canvas.polyline(thin(d.place(curve.points)), d.pen(curve.pen));
    }
    for (const Marks& marks : d.chart.marks) {
        draw_marks(d, marks);
    }
    d.canvas.keep_all();
}

void draw_end_labels(const ChartDrawing& d) {
    for (const EndPlace& end : d.layout.ends) {
        d.canvas.text(end.at, end.words,
                      {.colour = end.colour, .height = d.em, .weight = Weight::bold});
    }
}

/// A strip's name and figures.
void draw_end_block(const ChartDrawing& d) {
    const EndBlock& block = d.chart.end;
    double y = d.layout.block.y + 0.5 * d.layout.block_row;
    double x = d.layout.block.x;
    if (!block.name.empty()) {
        d.canvas.mark({x + 0.4 * d.em, y}, block.shape, 0.8 * d.em, block.colour);
        d.canvas.text({x + 1.2 * d.em, y}, block.name,
                      {.colour = block.colour, .height = d.em, .weight = Weight::bold});
        y += d.layout.block_row;
    }
    for (std::size_t i = 0; i < d.layout.block_lines; ++i) {
        const std::size_t hidden =
            i + 1 == d.layout.block_lines ? block.lines.size() - d.layout.block_lines : 0;
        const std::string counted = hidden > 0 ? " (+" + std::to_string(hidden) + ")" : "";
        d.canvas.text({x, y}, block.lines[i] + counted, {.colour = d.palette.ink, .height = d.em});
        y += d.layout.block_row;
    }
}

Frame draw_one(const Chart& chart, Layout layout, Canvas& canvas, const Palette& palette,
               const DrawStyle& style) {
    const Box inside = layout.inside;
    Frame frame{inside, Scale(chart.across, inside.left, inside.right),
                Scale(chart.up, inside.bottom, inside.top)};
    const ChartDrawing drawing{
        chart, canvas, palette, style.text_height, style.line_scale, frame, std::move(layout)};
    draw_grid(drawing);
    draw_titles(drawing);
    draw_key(drawing);
    draw_signposts(drawing);
    draw_data(drawing);
    draw_end_labels(drawing);
    draw_end_block(drawing);
    return frame;
}

Frame draw_strips(const Chart& chart, const Box& area, Canvas& canvas, const Palette& palette,
                  const DrawStyle& style) {
    const double em = style.text_height;
    const StripsLayout strips = lay_out_strips(chart, area, canvas, em);
    std::vector<Frame> frames;
    for (std::size_t i = 0; i < strips.charts.size(); ++i) {
        frames.push_back(
            draw_one(strips.charts[i],
                     lay_out(strips.charts[i], strips.areas[i], canvas, em, &strips.stand[i]),
                     canvas, palette, style));
    }
    Frame whole = frames.front();
    whole.inside.bottom = frames.back().inside.bottom;
    whole.strips = std::move(frames);
    return whole;
}

} // namespace

Frame draw(const Chart& chart, const Box& area, Canvas& canvas, const Palette& palette,
           const DrawStyle& style) {
    const double em = style.text_height;
    if (!chart.strips.empty()) {
        return draw_strips(chart, area, canvas, palette, style);
    }
    Layout layout = lay_out(chart, area, canvas, em);
    if (chart.empty()) {
        const Box inside = layout.inside;
        canvas.box(inside, palette.panel);
        canvas.text({inside.left + 0.5 * inside.width(), inside.top + 0.5 * inside.height()},
                    chart.when_empty,
                    {.colour = palette.faint_ink, .height = 1.1 * em, .across = Across::centre});
        return {inside, Scale(chart.across, inside.left, inside.right),
                Scale(chart.up, inside.bottom, inside.top)};
    }
    return draw_one(chart, std::move(layout), canvas, palette, style);
}

namespace {

/// Without what would end a field or a row.
std::string field(std::string words) {
    for (char& c : words) {
        c = c == '\t' || c == '\n' || c == '\r' ? ' ' : c;
    }
    return words;
}

/// So many decimals that seven digits count.
std::string number(double value) {
    const double size = std::abs(value);
    const int before = size < 1.0 ? 1 : static_cast<int>(std::floor(std::log10(size))) + 1;
    return wording::figure(value, std::clamp(7 - before, 0, 6));
}

void add_rows(const Chart& chart, std::string& out) {
    const auto row = [&out](const std::string& name, Point at, const std::string& spread) {
        out += field(name) + "\t" + number(at.x) + "\t" + number(at.y) + "\t" + spread + "\n";
    };
    for (const Curve& curve : chart.curves) {
        for (const Point at : curve.points) {
            row(curve.name.empty() ? curve.end_label : curve.name, at, {});
        }
    }
    for (const Marks& marks : chart.marks) {
        for (std::size_t i = 0; i < marks.at.size(); ++i) {
            row(marks.name, marks.at[i],
                i < marks.spread.size() ? number(marks.spread[i]) : std::string());
        }
    }
    for (const Signpost& post : chart.signposts) {
        if (!post.words.empty()) {
            out += field(post.words) + "\t" + number(post.x) + "\t\t\n";
        }
    }
    for (const Chart& strip : chart.strips) {
        add_rows(strip, out);
    }
}

} // namespace

std::string chart_table(const Chart& chart) {
    std::string out =
        "\t" + field(chart.across.title) + "\t" + field(chart.up.title) + "\t\u00b1\n";
    add_rows(chart, out);
    return out;
}

} // namespace platewright::plot
