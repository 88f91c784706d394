#pragma once
#include "plot/canvas.hpp"
#include "report/sheet/markup.hpp"

namespace platewright::report {

/// Draws into SVG that stands within a page of HTML (SVG 1.1): no file of its own, letters stay
/// text, so that they can be searched, read aloud and set in the reader's own font. Units are CSS
/// pixels. `name` keeps its clippings apart from those of other pictures on the page.
/// Widths of text are estimated from Lato's mean letter, since the reader's font is not known.
class SvgCanvas final : public plot::Canvas {
public:
    SvgCanvas(std::string name, plot::Size size, std::string label);

    void polyline(std::span<const plot::Point> points, const plot::Pen& pen) override;
    void ribbon(std::span<const plot::Point> upper, std::span<const plot::Point> lower,
                plot::Colour colour) override;
    void area(std::span<const std::vector<plot::Point>> pieces, plot::Colour colour) override;
    void box(const plot::Box& box, plot::Colour colour, double corner_radius) override;
    void mark(plot::Point centre, plot::Shape shape, double size, plot::Colour colour) override;
    void text(plot::Point at, std::string_view words, const plot::Lettering& lettering) override;
    plot::Size measure(std::string_view words, double height, plot::Weight weight) const override;
    void keep_inside(const plot::Box& box) override;
    void keep_all() override;

    /// A place that can be pointed at, or reached by keys: `words` are shown there. `link` leads to
    /// a part of the page; empty: nowhere.
    void hot(plot::Point centre, double radius, const std::string& words, const std::string& link);

    /// Ends the picture and gives its markup. Call once, last.
    std::string finish();

private:
    Markup markup_;
    std::string name_;
    int clips_ = 0;
    bool clipped_ = false;
};

} // namespace platewright::report
