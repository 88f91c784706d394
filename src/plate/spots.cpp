#include "plate/spots.hpp"

namespace platewright::plate {

std::optional<Point> spot_place(const Outline& outline, taps::Spot spot) {
    const double inset = 0.04 * outline.size.lower_mm;
    const auto left = [&](double y) { return Point{outline.extent(y).left_mm + inset, y}; };
    const auto right = [&](double y) { return Point{outline.extent(y).right_mm - inset, y}; };
    const auto middle = [&](double y) {
        const auto e = outline.extent(y);
        return Point{0.5 * (e.left_mm + e.right_mm), y};
    };
    switch (spot) {
    case taps::Spot::unknown:
        return std::nullopt;
    case taps::Spot::centre:
        return middle(0.5 * outline.size.length_mm);
    case taps::Spot::upper_end:
        return middle(outline.size.length_mm - inset);
    case taps::Spot::lower_end:
        return middle(inset);
    case taps::Spot::upper_bout_left:
        return left(outline.upper_y_mm);
    case taps::Spot::upper_bout_right:
        return right(outline.upper_y_mm);
    case taps::Spot::waist_left:
        return left(outline.waist_y_mm);
    case taps::Spot::waist_right:
        return right(outline.waist_y_mm);
    case taps::Spot::lower_bout_left:
        return left(outline.lower_y_mm);
    case taps::Spot::lower_bout_right:
        return right(outline.lower_y_mm);
    }
    return std::nullopt;
}

std::optional<Point> named_place(const Outline& outline, std::string_view name) {
    const auto spot = taps::spot_from_word(name);
    return spot ? spot_place(outline, *spot) : std::nullopt;
}

} // namespace platewright::plate
