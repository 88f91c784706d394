#include "screen/draw/imgui_canvas.hpp"

#include "plot/canvas.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

namespace platewright::screen {
using plot::Point;

namespace {

constexpr double k_large_px =
    24.0; // a box with a side less than that is not worth a fill of its own
constexpr double k_unseen_px = 0.2; // by which a line may pass a point without anybody seeing it

/// A broken line as separate pieces: the pattern runs on over the corners.
void dashes(ImDrawList& list, std::span<const Point> points, const plot::Pen& pen) {
    const bool dotted = pen.dash == plot::Dash::dotted;
    const double on = dotted ? std::max(1.5, pen.width) : 4.0 + 2.0 * pen.width;
    const double period = on + (dotted ? 2.0 + 1.5 * pen.width : 3.0 + pen.width);
    const ImU32 colour = packed(pen.colour);
    const auto width = static_cast<float>(pen.width);
    double along = 0.0; // from the start of the pattern
    for (std::size_t i = 1; i < points.size(); ++i) {
        const Point a = points[i - 1];
        const Point b = points[i];
        const double length = std::hypot(b.x - a.x, b.y - a.y);
        const auto at = [&](double t) {
            return vec({a.x + (b.x - a.x) * t / length, a.y + (b.y - a.y) * t / length});
        };
        for (double t = 0.0; t < length;) {
            const double phase = std::fmod(along, period);
            const bool drawing = phase < on;
            const double step = std::min(length - t, (drawing ? on : period) - phase + 1e-6);
            if (drawing) {
                list.AddLine(at(t), at(t + step), colour, width);
            }
            t += step;
            along += step;
        }
    }
}

} // namespace

void ImguiCanvas::polyline(std::span<const Point> points, const plot::Pen& pen) {
    if (points.size() < 2) {
        return;
    }
    if (pen.dash != plot::Dash::solid) {
        dashes(list_, points, pen);
        return;
    }
    list_.PathClear();
    for (const Point p : plot::straightened(points, k_unseen_px)) {
        list_.PathLineTo(vec(p));
    }
    // A width of whole pixels is softened by the texture, at a third of the triangles.
    list_.PathStroke(packed(pen.colour), 0,
                     std::max(1.0F, std::round(static_cast<float>(pen.width))));
}

void ImguiCanvas::ribbon(std::span<const Point> upper, std::span<const Point> lower,
                         plot::Colour colour) {
    // Softened edges would show as seams between the pieces.
    const ImDrawListFlags before = list_.Flags;
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (std::size_t i = 1; i < std::min(upper.size(), lower.size()); ++i) {
        list_.AddQuadFilled(vec(upper[i - 1]), vec(upper[i]), vec(lower[i]), vec(lower[i - 1]),
                            packed(colour));
    }
    list_.Flags = before;
}

void ImguiCanvas::area(std::span<const std::vector<Point>> pieces, plot::Colour colour) {
    const ImDrawListFlags before = list_.Flags; // softened edges would show as seams
    list_.Flags &= ~ImDrawListFlags_AntiAliasedFill;
    for (const std::vector<Point>& piece : pieces) {
        list_.PathClear();
        for (const Point p : piece) {
            list_.PathLineTo(vec(p));
        }
        list_.PathFillConvex(packed(colour));
    }
    list_.Flags = before;
}

void ImguiCanvas::box(const plot::Box& box, plot::Colour colour, double corner_radius) {
    const ImVec2 low = vec({box.left, box.top});
    const ImVec2 high = vec({box.right, box.bottom});
    const auto radius = static_cast<float>(corner_radius);
    const plot::Box inside{std::round(box.left), std::ceil(box.top + corner_radius),
                           std::round(box.right), std::floor(box.bottom - corner_radius)};
    const bool large = inside.width() > k_large_px && inside.height() > k_large_px;
    if (look_.fill == nullptr || !large || colour.opacity != 255) {
        list_.AddRectFilled(low, high, packed(colour), radius);
        return;
    }
    // Corners as triangles; what lies between them, and the seams, by the faster way.
    const auto upper = static_cast<float>(inside.top + 1.0);
    const auto lower = static_cast<float>(inside.bottom - 1.0);
    list_.AddRectFilled(low, {high.x, upper}, packed(colour), radius, ImDrawFlags_RoundCornersTop);
    list_.AddRectFilled({low.x, lower}, high, packed(colour), radius,
                        ImDrawFlags_RoundCornersBottom);
    list_.PushClipRect(vec({inside.left, inside.top}), vec({inside.right, inside.bottom}), true);
    // A callback carries a pointer; the colour is all that has to be told.
    list_.AddCallback(look_.fill, reinterpret_cast<void*>(std::uintptr_t{packed(colour)}));
    list_.PopClipRect();
}

void ImguiCanvas::frame(const plot::Box& box, plot::Colour colour, double corner_radius,
                        double width) {
    const double half = 0.5 * width; // the stroke lies within the box
    list_.AddRect(vec({box.left + half, box.top + half}),
                  vec({box.right - half, box.bottom - half}), packed(colour),
                  static_cast<float>(std::max(0.0, corner_radius - half)), 0,
                  static_cast<float>(width));
}

void ImguiCanvas::mark(Point centre, plot::Shape shape, double size, plot::Colour colour) {
    const auto radius = static_cast<float>(0.5 * size);
    if (shape == plot::Shape::disc) {
        list_.AddCircleFilled(vec(centre), radius, packed(colour));
        return;
    }
    if (shape == plot::Shape::ring) {
        list_.AddCircle(vec(centre), radius * 0.82F, packed(colour), 0, radius * 0.36F);
        return;
    }
    const std::vector<Point> corners = plot::corners(shape, centre, size);
    if (shape == plot::Shape::cross) {
        // No convex figure: two bars over one another.
        const auto bar = [&](std::size_t a, std::size_t b, std::size_t c, std::size_t d) {
            list_.AddQuadFilled(vec(corners[a]), vec(corners[b]), vec(corners[c]), vec(corners[d]),
                                packed(colour));
        };
        bar(1, 2, 7, 8);
        bar(4, 5, 10, 11);
        return;
    }
    for (const Point corner : corners) {
        list_.PathLineTo(vec(corner));
    }
    list_.PathFillConvex(packed(colour));
}

void ImguiCanvas::text(Point at, std::string_view words, const plot::Lettering& lettering) {
    const plot::Size size = measure(words, lettering.height, lettering.weight);
    const double left = at.x - (lettering.across == plot::Across::left     ? 0.0
                                : lettering.across == plot::Across::centre ? 0.5 * size.width
                                                                           : size.width);
    const double top = at.y - (lettering.upright == plot::Upright::top      ? 0.0
                               : lettering.upright == plot::Upright::middle ? 0.5 * size.height
                                                                            : size.height);
    const ImFont* font = look_.fonts.at_least(lettering.height, lettering.weight);
    list_.AddText(font, static_cast<float>(lettering.height),
                  {std::round(static_cast<float>(left)), std::round(static_cast<float>(top))},
                  packed(lettering.colour), words.data(), words.data() + words.size());
    if (look_.witness != nullptr && !words.empty()) {
        // Only what is not scrolled out of sight.
        const ImVec2 low = list_.GetClipRectMin();
        const ImVec2 high = list_.GetClipRectMax();
        const plot::Box seen{std::max(left, static_cast<double>(low.x)),
                             std::max(top, static_cast<double>(low.y)),
                             std::min(left + size.width, static_cast<double>(high.x)),
                             std::min(top + size.height, static_cast<double>(high.y))};
        if (seen.width() > 0.0 && seen.height() > 0.5 * size.height) {
            const bool cut_aside = left < seen.left - 1.0 || left + size.width > seen.right + 1.0;
            look_.note(words, seen, lettering.height, cut_aside);
        }
    }
}

plot::Size ImguiCanvas::measure(std::string_view words, double height, plot::Weight weight) const {
    const ImFont* font = look_.fonts.at_least(height, weight);
    const ImVec2 size = font->CalcTextSizeA(static_cast<float>(height), 1e6F, 0.0F, words.data(),
                                            words.data() + words.size());
    return {static_cast<double>(size.x), static_cast<double>(size.y)};
}

void ImguiCanvas::keep_inside(const plot::Box& box) {
    list_.PushClipRect(vec({box.left, box.top}), vec({box.right, box.bottom}), true);
}

void ImguiCanvas::keep_all() { list_.PopClipRect(); }

} // namespace platewright::screen
