#include "plate/shape/spots.hpp"

#include "base/level.hpp"
#include "plate/mesh/contour.hpp"
#include "wording/say.hpp"

#include <algorithm>
#include <cmath>

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
    case taps::Spot::bridge_bass:
    case taps::Spot::bridge_treble:
        break; // of the closed body, not of a plate
    }
    return std::nullopt;
}

std::optional<Point> named_place(const Outline& outline, std::string_view name) {
    const auto spot = taps::spot_from_text(name);
    return spot ? spot_place(outline, *spot) : std::nullopt;
}

std::string place_text(Point p) {
    return wording::say("x {}, y {} mm", wording::signed_figure(p.x_mm, 0),
                        wording::figure(p.y_mm, 0));
}

std::vector<SpotAmplitude> spot_amplitudes(const Outline& outline, const PlanMesh& mesh,
                                           const Eigen::MatrixXd& shapes, int mode) {
    constexpr double k_floor_db = -40.0;
    Eigen::VectorXd height(static_cast<Eigen::Index>(mesh.points.size()));
    for (Eigen::Index i = 0; i < height.size(); ++i)
        height[i] = shapes(6 * i + 2, mode);
    std::vector<SpotAmplitude> levels;
    double strongest = 0.0;
    for (const auto spot : taps::k_spots)
        if (const auto place = spot_place(outline, spot)) {
            const double amplitude = std::abs(value_at(mesh, height, *place));
            strongest = std::max(strongest, amplitude);
            levels.push_back({spot, amplitude});
        }
    for (auto& level : levels)
        level.level_db = std::max(
            k_floor_db, base::amplitude_to_db(level.level_db / std::max(strongest, 1e-300)));
    return levels;
}

} // namespace platewright::plate
