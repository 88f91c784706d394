#pragma once
#include "plot/canvas.hpp"
#include "screen/draw/look.hpp"

namespace platewright::screen {

/// Draws charts, and everything of ours that is no widget, into a Dear ImGui draw list.
/// Surface units are pixels of the window. Threads: the screen's.
class ImguiCanvas final : public plot::Canvas {
public:
    ImguiCanvas(ImDrawList& list, const Look& look) : list_(list), look_(look) {}

    void polyline(std::span<const plot::Point> points, const plot::Pen& pen) override;
    void ribbon(std::span<const plot::Point> upper, std::span<const plot::Point> lower,
                plot::Colour colour) override;
    void area(std::span<const std::vector<plot::Point>> pieces, plot::Colour colour) override;
    void box(const plot::Box& box, plot::Colour colour, double corner_radius) override;
    /// Only the edge of a box, `width` within it. No part of it is drawn twice, as it would be by
    /// one box over another: on a computer without a graphics card every pixel counts.
    void frame(const plot::Box& box, plot::Colour colour, double corner_radius, double width);
    void mark(plot::Point centre, plot::Shape shape, double size, plot::Colour colour) override;
    void text(plot::Point at, std::string_view words, const plot::Lettering& lettering) override;
    plot::Size measure(std::string_view words, double height, plot::Weight weight) const override;
    void keep_inside(const plot::Box& box) override;
    void keep_all() override;

private:
    ImDrawList& list_;
    const Look& look_;
};

} // namespace platewright::screen
