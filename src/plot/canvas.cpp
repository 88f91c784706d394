#include "plot/canvas.hpp"

#include <algorithm>
#include <cmath>

namespace platewright::plot {

Colour Colour::faded(double opacity_0_1) const {
    Colour out = *this;
    const double share = std::clamp(opacity_0_1, 0.0, 1.0);
    out.opacity = static_cast<std::uint8_t>(std::lround(share * 255.0));
    return out;
}

Colour Colour::over(Colour ground, double opacity_0_1) const {
    const double share = std::clamp(opacity_0_1, 0.0, 1.0);
    const auto mixed = [share](std::uint8_t upper, std::uint8_t lower) {
        return static_cast<std::uint8_t>(std::lround(share * upper + (1.0 - share) * lower));
    };
    return {mixed(red, ground.red), mixed(green, ground.green), mixed(blue, ground.blue),
            ground.opacity};
}

std::vector<Point> corners(Shape shape, Point centre, double size) {
    const double r = 0.5 * size;
    const auto at = [centre, r](double x, double y) {
        return Point{centre.x + x * r, centre.y + y * r};
    };
    switch (shape) {
    case Shape::diamond:
        return {at(0, -1.15), at(1.15, 0), at(0, 1.15), at(-1.15, 0)};
    case Shape::triangle:
        return {at(0, -1.1), at(1.1, 0.85), at(-1.1, 0.85)};
    case Shape::square:
        return {at(-0.9, -0.9), at(0.9, -0.9), at(0.9, 0.9), at(-0.9, 0.9)};
    case Shape::cross: {
        const double w = 0.3; // half an arm's width, along the diagonals
        return {at(0, -w), at(1 - w, -1), at(1, w - 1),  at(w, 0),  at(1, 1 - w),  at(1 - w, 1),
                at(0, w),  at(w - 1, 1),  at(-1, 1 - w), at(-w, 0), at(-1, w - 1), at(w - 1, -1)};
    }
    case Shape::disc:
    case Shape::ring:
        break;
    }
    return {};
}

} // namespace platewright::plot
