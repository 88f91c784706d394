#include "report/page/svg_canvas.hpp"

#include <algorithm>
#include <fmt/format.h>

namespace platewright::report {
namespace {

using plot::Point;

std::string colour_text(plot::Colour c) {
    return fmt::format("#{:02x}{:02x}{:02x}", c.red, c.green, c.blue);
}

std::string opacity_text(plot::Colour c) {
    return fmt::format("{:.3g}", static_cast<double>(c.opacity) / 255.0);
}

std::string number(double value) { return fmt::format("{:.1f}", value); }

std::string places(std::span<const Point> points) {
    std::string text;
    for (const Point& p : points)
        text += fmt::format("{:.1f},{:.1f} ", p.x, p.y);
    return text;
}

std::string dash_text(const plot::Pen& pen) {
    switch (pen.dash) {
    case plot::Dash::dashed:
        return fmt::format("{:.1f} {:.1f}", 4.0 * pen.width, 3.0 * pen.width);
    case plot::Dash::dotted:
        return fmt::format("{:.1f} {:.1f}", pen.width, 2.5 * pen.width);
    case plot::Dash::solid:
        break;
    }
    return "none";
}

} // namespace

SvgCanvas::SvgCanvas(std::string name, plot::Size size, std::string label)
    : name_(std::move(name)) {
    markup_.open("svg", {{"xmlns", "http://www.w3.org/2000/svg"},
                         {"viewBox", fmt::format("0 0 {:.0f} {:.0f}", size.width, size.height)},
                         {"role", "group"},
                         {"aria-label", std::move(label)}});
}

void SvgCanvas::polyline(std::span<const Point> points, const plot::Pen& pen) {
    markup_.alone("polyline", {{"points", places(points)},
                               {"fill", "none"},
                               {"stroke", colour_text(pen.colour)},
                               {"stroke-opacity", opacity_text(pen.colour)},
                               {"stroke-width", fmt::format("{:.2f}", pen.width)},
                               {"stroke-dasharray", dash_text(pen)},
                               {"stroke-linejoin", "round"}});
}

void SvgCanvas::ribbon(std::span<const Point> upper, std::span<const Point> lower,
                       plot::Colour colour) {
    std::vector<Point> round(upper.begin(), upper.end());
    round.insert(round.end(), lower.rbegin(), lower.rend());
    markup_.alone("polygon", {{"points", places(round)},
                              {"fill", colour_text(colour)},
                              {"fill-opacity", opacity_text(colour)}});
}

void SvgCanvas::area(std::span<const std::vector<Point>> pieces, plot::Colour colour) {
    std::string path;
    for (const std::vector<Point>& piece : pieces) {
        char verb = 'M';
        for (const Point& p : piece) {
            path += fmt::format("{}{:.1f} {:.1f}", verb, p.x, p.y);
            verb = 'L';
        }
        path += 'Z';
    }
    // Without softened edges neighbours leave no seam between them.
    markup_.alone("path", {{"d", path},
                           {"fill", colour_text(colour)},
                           {"fill-opacity", opacity_text(colour)},
                           {"shape-rendering", "crispEdges"}});
}

void SvgCanvas::box(const plot::Box& box, plot::Colour colour, double corner_radius) {
    markup_.alone("rect", {{"x", number(box.left)},
                           {"y", number(box.top)},
                           {"width", number(std::max(0.0, box.width()))},
                           {"height", number(std::max(0.0, box.height()))},
                           {"rx", number(corner_radius)},
                           {"fill", colour_text(colour)},
                           {"fill-opacity", opacity_text(colour)}});
}

void SvgCanvas::mark(Point centre, plot::Shape shape, double size, plot::Colour colour) {
    if (const std::vector<Point> round = plot::corners(shape, centre, size); !round.empty()) {
        markup_.alone("polygon", {{"points", places(round)},
                                  {"fill", colour_text(colour)},
                                  {"fill-opacity", opacity_text(colour)}});
        return;
    }
    const bool ring = shape == plot::Shape::ring;
    const double width = ring ? 0.2 * size : 0.0;
    markup_.alone("circle", {{"cx", number(centre.x)},
                             {"cy", number(centre.y)},
                             {"r", number(0.5 * (size - width))},
                             {"fill", ring ? "none" : colour_text(colour)},
                             {"stroke", ring ? colour_text(colour) : "none"},
                             {"stroke-width", number(width)}});
}

void SvgCanvas::text(Point at, std::string_view words, const plot::Lettering& lettering) {
    const char* anchor = lettering.across == plot::Across::left     ? "start"
                         : lettering.across == plot::Across::centre ? "middle"
                                                                    : "end";
    // Baselines from the box of the letters: 0.74 of the height stands over the baseline in Lato.
    const double down = lettering.upright == plot::Upright::top      ? 0.80
                        : lettering.upright == plot::Upright::middle ? 0.34
                                                                     : -0.20;
    markup_.said("text", words,
                 {{"x", number(at.x)},
                  {"y", number(at.y + down * lettering.height)},
                  {"font-size", number(lettering.height)},
                  {"font-weight", lettering.weight == plot::Weight::bold ? "700" : "400"},
                  {"text-anchor", anchor},
                  {"fill", colour_text(lettering.colour)},
                  {"fill-opacity", opacity_text(lettering.colour)}});
}

plot::Size SvgCanvas::measure(std::string_view words, double height, plot::Weight weight) const {
    const auto letters = std::count_if(words.begin(), words.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    });
    const double mean = weight == plot::Weight::bold ? 0.56 : 0.53; // of Lato, rather too wide
    return {mean * height * static_cast<double>(letters), 1.2 * height};
}

void SvgCanvas::keep_inside(const plot::Box& box) {
    keep_all();
    const std::string id = fmt::format("{}-{}", name_, ++clips_);
    markup_.open("clipPath", {{"id", id}});
    markup_.alone("rect", {{"x", number(box.left)},
                           {"y", number(box.top)},
                           {"width", number(std::max(0.0, box.width()))},
                           {"height", number(std::max(0.0, box.height()))}});
    markup_.close("clipPath");
    markup_.open("g", {{"clip-path", fmt::format("url(#{})", id)}});
    clipped_ = true;
}

void SvgCanvas::keep_all() {
    if (clipped_)
        markup_.close("g");
    clipped_ = false;
}

void SvgCanvas::hot(Point centre, double radius, const std::string& words,
                    const std::string& link) {
    if (!link.empty())
        markup_.open("a", {{"href", "#" + link}, {"aria-label", words}});
    markup_.alone("circle", {{"class", "hot"},
                             {"cx", number(centre.x)},
                             {"cy", number(centre.y)},
                             {"r", number(radius)},
                             {"data-words", words}});
    if (!link.empty())
        markup_.close("a");
}

std::string SvgCanvas::finish() {
    keep_all();
    markup_.close("svg");
    return markup_.str();
}

} // namespace platewright::report
