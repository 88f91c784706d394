#pragma once
/// Caliper readings of a plate and the thickness surface through them.

#include "base/result.hpp"
#include "plate/readings.hpp"
#include "plate/shape/outline.hpp"
#include "plate/thickness/smooth_field.hpp"

#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace platewright::plate {

/// Reads lines "x, y, thickness" (mm) or "place, thickness" with a place's name (a spot's word);
/// semicolons, tabs, commas or blanks between, decimal comma accepted; a headline (a first line
/// that begins with neither a number nor a place) is skipped. Faults name the line.
base::Result<std::vector<ThicknessReading>> thickness_from_csv(std::string_view text,
                                                               const Outline& outline);

/// Refuses, naming the reading: not a number, under 0.5 or over 15 mm, outside the outline
/// (2 mm are forgiven), two readings at one place; all of them in inches or in tenths of a
/// millimetre; fewer than three.
std::optional<base::Fault> fault_in(std::span<const ThicknessReading> readings,
                                    const Outline& outline);

/// The surface through checked readings. Threads: pure once made; copies share it.
class ThicknessMap {
public:
    /// Throws std::invalid_argument where fault_in finds a fault: check before.
    /// reading_sd_mm: of one caliper reading; 0.05 is usual (common practice, no source).
    ThicknessMap(std::vector<ThicknessReading> readings, const Outline& outline,
                 double reading_sd_mm = 0.05);

    const std::vector<ThicknessReading>& readings() const { return readings_; }
    double thickness_mm(Point p) const { return field_->value(p); }
    double sd_mm(Point p) const { return field_->sd(p); }
    const SmoothField& field() const { return *field_; }

private:
    std::vector<ThicknessReading> readings_;
    std::shared_ptr<const SmoothField> field_;
};

/// What a map shows at a glance.
struct ThicknessFacts {
    double middle_mm = 0.0; // mean within a quarter of the waist's width of the centre
    double edge_mm = 0.0;   // mean along a line 12 mm (scaled by length) inside the edge
    double middle_to_edge = 0.0;
    double left_less_right_mm = 0.0; // mean over the plate
    double mean_mm = 0.0;
    Point thinnest;
    double thinnest_mm = 0.0;
    double thinnest_sd_mm = 0.0;
    Point next_reading;       // where one more reading would lower the map's variance the most
    double worst_sd_mm = 0.0; // the greatest deviation anywhere
    double worst_sd_after_mm = 0.0; // once that reading is taken
};
/// Cost: about 20 ms for 60 readings.
ThicknessFacts describe(const ThicknessMap& map, const Outline& outline);

/// Places of an even grid inside the outline.
std::vector<Point> grid_inside(const Outline& outline, double step_mm);

} // namespace platewright::plate
