#include "trends/plan_zones.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

namespace platewright::trends {
namespace {

constexpr std::array<wording::Phrase, 3> k_along{"upper bout", "waist", "lower bout"};
constexpr std::array<wording::Phrase, 3> k_across{"left", "middle", "right"};

std::size_t zone_of(plate::Point p, const plate::Outline& outline) {
    const bool is_upper = p.y_mm > 0.5 * (outline.upper_y_mm + outline.waist_y_mm);
    const bool is_lower = p.y_mm < 0.5 * (outline.lower_y_mm + outline.waist_y_mm);
    const auto width = outline.extent(p.y_mm);
    const double share = (p.x_mm - width.left_mm) / std::max(1e-9, width.right_mm - width.left_mm);
    const std::size_t along = is_upper ? 0 : is_lower ? 2 : 1;
    const std::size_t across = share < 1.0 / 3.0 ? 0 : share > 2.0 / 3.0 ? 2 : 1;
    return 3 * along + across;
}

} // namespace

std::vector<PlanZone> seen_from_inside(std::vector<PlanZone> zones) {
    for (std::size_t row = 0; row + 2 < zones.size(); row += 3) {
        std::swap(zones[row].name, zones[row + 2].name);
    }
    return zones;
}

std::vector<PlanZone> plan_zones(const plate::PlateModel& model, const Eigen::VectorXd& removal_mm,
                                 const plate::PlateWood& wood) {
    constexpr double g_per_kg_mm3 = 1e-6; // kg/m^3 times mm^3
    std::vector<PlanZone> zones(9);
    std::array<double, 9> area{};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        zones[i].name = wording::say(k_along[i / 3]);
        zones[i].name += ", ";
        zones[i].name += wording::say(k_across[i % 3]);
    }
    for (std::size_t i = 0; i < model.nodes(); ++i) {
        const auto node = static_cast<Eigen::Index>(i);
        const plate::Point p = model.points()[i];
        const std::size_t which = zone_of(p, model.form().outline);
        PlanZone& zone = zones[which];
        const double density = p.x_mm < 0.0 ? wood.left.density_kg_m3 : wood.right.density_kg_m3;
        area[which] += model.node_area_mm2()[node];
        zone.mean_mm += removal_mm[node] * model.node_area_mm2()[node];
        zone.wood_g += removal_mm[node] * model.node_area_mm2()[node] * model.stretch()[node] *
                       density * g_per_kg_mm3;
        if (removal_mm[node] > zone.deepest_mm) {
            zone.deepest_mm = removal_mm[node];
            zone.deepest = p;
        }
    }
    for (std::size_t i = 0; i < zones.size(); ++i)
        zones[i].mean_mm /= std::max(1e-9, area[i]);
    return zones;
}

} // namespace platewright::trends
