#pragma once
#include "plate/plate_model.hpp"

#include <span>
#include <string>
#include <vector>

namespace platewright::trends {

/// A part of the plate as a maker speaks of it, and what a plan takes off it.
struct PlanZone {
    std::string name;     ///< "lower bout, left"; seen from the outside
    double mean_mm = 0.0; ///< over the zone's area
    double deepest_mm = 0.0;
    plate::Point deepest; ///< where that is
    double wood_g = 0.0;
};

/// By node: whether nothing beside it is deeper. A drawing marks some of these with their depths.
std::vector<bool> is_summit(const plate::PlateModel& model, const Eigen::VectorXd& removal_mm);

/// Whether so much comes off it that a table names it: what is rounded to nothing no scraper takes.
bool is_worth_telling(const PlanZone& zone);

/// The nine under their names as they are seen from the inside: left is right.
std::vector<PlanZone> seen_from_inside(std::vector<PlanZone> zones);

/// The nine parts between upper bout, waist and lower bout (parted half way between the heights of
/// the three widths), left, middle and right (thirds of the width there), from the upper left on.
/// Deepest is a zone's deepest summit: a zone without one, at whose border a neighbour's slope is
/// deepest, tells that. In: depths at the model's nodes. The grams of all zones are those of the
/// whole. Threads: pure.
std::vector<PlanZone> plan_zones(const plate::PlateModel& model, const Eigen::VectorXd& removal_mm,
                                 const plate::PlateWood& wood);

/// The same with one zone in place of a left and a right one that take alike, to a hundredth of a
/// millimetre: "lower bout, both sides", with the grams of both. In: the nine, in order.
std::vector<PlanZone> told_together(std::vector<PlanZone> zones);

/// Where most of a plan's wood comes off, in a maker's words: "upper bout, left; waist, middle".
/// In: the zones as plan_zones gives them; out: as they lie before who takes wood off the inside.
/// Parts of the same height that take about alike are named together. Empty where nothing is taken.
std::string where_of(std::span<const PlanZone> zones);

} // namespace platewright::trends
