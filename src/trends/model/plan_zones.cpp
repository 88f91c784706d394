#include "trends/model/plan_zones.hpp"

#include "wording/say.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <string_view>
#include <tuple>
#include <utility>

namespace platewright::trends {
namespace {

constexpr std::array<wording::Phrase, 3> k_along{"upper bout", "waist", "lower bout"};
constexpr std::array<wording::Phrase, 3> k_across{"left", "middle", "right"};

constexpr double k_worth_naming = 0.5;   // of what comes off the fullest part
constexpr double k_least_told_mm = 0.03; // less no scraper takes on purpose, nor caliper tells
constexpr double k_no_grams = 0.05;      // is rounded to nothing

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

std::vector<bool> is_summit(const plate::PlateModel& model, const Eigen::VectorXd& removal_mm) {
    std::vector<bool> summit(model.nodes(), true);
    for (const auto& triangle : model.shell().mesh().triangles)
        for (const int a : triangle)
            for (const int b : triangle)
                if (removal_mm[a] < removal_mm[b])
                    summit[static_cast<std::size_t>(a)] = false;
    return summit;
}

bool is_worth_telling(const PlanZone& zone) {
    return zone.deepest_mm >= k_least_told_mm && zone.wood_g >= k_no_grams;
}

std::vector<PlanZone> seen_from_inside(std::vector<PlanZone> zones) {
    for (std::size_t row = 0; row + 2 < zones.size(); row += 3) {
        std::swap(zones[row].name, zones[row + 2].name);
    }
    return zones;
}

std::vector<PlanZone> told_together(std::vector<PlanZone> zones) {
    constexpr double k_alike_mm = 0.01;
    std::vector<PlanZone> told;
    for (std::size_t row = 0; row + 2 < zones.size(); row += 3) {
        PlanZone &left = zones[row], &right = zones[row + 2];
        const bool alike = std::abs(left.mean_mm - right.mean_mm) < k_alike_mm &&
                           std::abs(left.deepest_mm - right.deepest_mm) < k_alike_mm;
        if (alike) {
            left.name = std::string(wording::say(k_along.at(row / 3))) + ", " +
                        std::string(wording::say("both sides"));
            left.wood_g += right.wood_g;
        }
        told.push_back(left);
        told.push_back(zones[row + 1]);
        if (!alike)
            told.push_back(right);
    }
    return told;
}

std::vector<PlanZone> plan_zones(const plate::PlateModel& model, const Eigen::VectorXd& removal_mm,
                                 const plate::PlateWood& wood) {
    constexpr double g_per_kg_mm3 = 1e-6; // kg/m^3 times mm^3
    std::vector<PlanZone> zones(9);
    std::array<double, 9> area{};
    // of a zone's other nodes, and of its summits
    std::array<std::array<std::pair<double, plate::Point>, 2>, 9> deepest{};
    const std::vector<bool> summit = is_summit(model, removal_mm);
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
        if (removal_mm[node] > deepest[which][summit[i]].first)
            deepest[which][summit[i]] = {removal_mm[node], p};
    }
    for (std::size_t i = 0; i < zones.size(); ++i) {
        zones[i].mean_mm /= std::max(1e-9, area[i]);
        std::tie(zones[i].deepest_mm, zones[i].deepest) =
            deepest[i][1].first > 0.0 ? deepest[i][1] : deepest[i][0];
    }
    return zones;
}

std::string where_of(std::span<const PlanZone> zones) {
    double all = 0.0, most = 0.0;
    std::array<double, 3> along{};
    for (std::size_t i = 0; i < zones.size(); ++i) {
        all += zones[i].wood_g;
        along.at(i / 3) += zones[i].wood_g;
    }
    if (all <= 0.0)
        return {};
    most = *std::ranges::max_element(along);
    std::string words;
    bool is_one_sided = false;
    for (std::size_t bout = 0; bout < along.size(); ++bout) {
        if (along[bout] < k_worth_naming * most)
            continue;
        const auto three = zones.subspan(3 * bout, 3);
        const double deepest = std::ranges::max(three, {}, &PlanZone::wood_g).wood_g;
        std::array<bool, 3> named{};
        for (std::size_t side = 0; side < named.size(); ++side)
            named[side] = three[side].wood_g >= k_worth_naming * deepest;
        words += words.empty() ? "" : "; ";
        words += wording::say(k_along[bout]);
        if (named[0] && named[2])
            words += named[1] ? std::string() : ", " + std::string(wording::say("both sides"));
        else
            for (std::size_t side = 0; side < named.size(); ++side)
                if (named[side])
                    words += ", " + std::string(wording::say(k_across[2 - side]));
        is_one_sided = is_one_sided || named[0] != named[2];
    }
    if (is_one_sided)
        words += " (" + std::string(wording::say("seen from the inside")) + ")";
    return words;
}

} // namespace platewright::trends
