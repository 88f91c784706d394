#pragma once
#include "ledger/columns.hpp"

namespace platewright::ledger {

// Columns of what is kept of a plate's shape and of its wood under the scraper (shape_record.hpp).

inline constexpr std::string_view k_species_help =
    "Handbook wood to start from: sitka_spruce, engelmann_spruce, norway_spruce, sugar_maple, "
    "red_maple";

template <>
struct TableOf<FormRecord> { // outline, heights and fittings lie in tables of their own
    using R = FormRecord;
    using Size = plate::OutlineSize;
    using Arch = plate::ArchingProfile;
    static constexpr std::string_view name = "form";
    static constexpr std::tuple columns{
        column("length_mm",
               asked_figure("Length of the body", "", "length=MM", "Length of the body in mm",
                            k_outline, 1),
               &R::size, &Size::length_mm),
        column("upper_mm",
               asked_figure("Upper bout", "", "upper=MM", "Width of the upper bout in mm",
                            k_outline, 1),
               &R::size, &Size::upper_mm),
        column("waist_mm",
               asked_figure("Waist", "", "waist=MM", "Width of the waist in mm", k_outline, 1),
               &R::size, &Size::waist_mm),
        column("lower_mm",
               asked_figure("Lower bout", "", "lower=MM", "Width of the lower bout in mm",
                            k_outline, 1),
               &R::size, &Size::lower_mm),
        column("arch_mm",
               asked_figure("Arch", "", "arch=MM",
                            "Height of the arch in mm, outside, above the edge's underside", k_arch,
                            1),
               &R::arching, &Arch::arch_mm),
        column("edge_mm",
               asked_figure("Edge", "", "edge=MM", "Height of the edge in mm, outside", k_edge, 1),
               &R::arching, &Arch::edge_mm),
        column("long_fullness",
               asked_figure("Fullness along, 1.2 to 8", "", "fullness=LONG:CROSS",
                            "How full the long and the cross arch are, from 1.2 (pointed) to 8 "
                            "(flat on top) [3.2:2]",
                            k_fullness, 2),
               &R::arching, &Arch::long_fullness),
        column("cross_fullness",
               asked_figure("Fullness across, 1.2 to 8", "", "fullness", "", k_fullness, 2),
               &R::arching, &Arch::cross_fullness),
        column("species",
               asked("Handbook wood to begin with", "usual for the part", "species=KEY",
                     k_species_help, Takes::species),
               &R::species),
        column("two_piece", asked("Made of", "", "pieces=N", "1 or 2", Takes::pieces),
               &R::two_piece),
        column("right_density",
               asked_figure("Right half's density, % of the left's", "", "right-half=D:S",
                            "Density and stiffness of the right half, in % of the left's [100:100]",
                            k_right_half, 0, 100.0),
               &R::right_density),
        column("right_stiffness",
               asked_figure("Right half's stiffness, % of the left's", "", "right-half", "",
                            k_right_half, 0, 100.0),
               &R::right_stiffness),
        column("rings_left_deg",
               asked_figure("Rings of the left half, ° off upright",
                            "The lean of the left half's rings", "rings=LEFT:RIGHT",
                            "How far the rings on the end grain lean off upright in degrees, of "
                            "both halves or one figure for both, seen from the lower end with the "
                            "outside up; above 0 to the right; or unknown",
                            k_rings),
               &R::rings_left_deg),
        column("rings_right_deg",
               asked_figure("Rings of the right half, ° off upright",
                            "The lean of the right half's rings", "rings", "", k_rings),
               &R::rings_right_deg),
        column("run_out_deg",
               asked_figure("Run-out of the right half, °", "The run-out", "run-out=DEG",
                            "How far the right half's fibres leave the plate's plane in degrees; "
                            "above 0 they rise to the outside going to the upper end; or unknown",
                            k_run_out),
               &R::run_out_deg)};
};

template <>
struct TableOf<plate::Point> {
    static constexpr std::string_view name = "form_rim";
    static constexpr std::tuple columns{column("x_mm", &plate::Point::x_mm),
                                        column("y_mm", &plate::Point::y_mm)};
};

template <>
struct TableOf<plate::HeightReading> {
    using R = plate::HeightReading;
    static constexpr std::string_view name = "form_height";
    static constexpr std::tuple columns{column("x_mm", &R::at, &plate::Point::x_mm),
                                        column("y_mm", &R::at, &plate::Point::y_mm),
                                        column("height_mm", &R::height_mm)};
};

template <>
struct TableOf<plate::FHole> {
    using R = plate::FHole;
    static constexpr std::string_view name = "form_f_hole";
    static constexpr std::tuple columns{column("upper_x_mm", &R::upper, &plate::Point::x_mm),
                                        column("upper_y_mm", &R::upper, &plate::Point::y_mm),
                                        column("lower_x_mm", &R::lower, &plate::Point::x_mm),
                                        column("lower_y_mm", &R::lower, &plate::Point::y_mm),
                                        column("slot_mm", &R::slot_mm),
                                        column("upper_eye_mm", &R::upper_eye_mm),
                                        column("lower_eye_mm", &R::lower_eye_mm)};
};

/// A point of the line that a maker gave for an f-hole.
struct FHoleRimPoint {
    int hole = 0; ///< 0: the right one, or both; 1: the left one
    plate::Point at;
};
template <>
struct TableOf<FHoleRimPoint> {
    using R = FHoleRimPoint;
    static constexpr std::string_view name = "form_f_hole_rim";
    static constexpr std::tuple columns{column("hole", &R::hole),
                                        column("x_mm", &R::at, &plate::Point::x_mm),
                                        column("y_mm", &R::at, &plate::Point::y_mm)};
};

template <>
struct TableOf<plate::BassBar> {
    using R = plate::BassBar;
    static constexpr std::string_view name = "form_bar";
    static constexpr std::tuple columns{column("lower_x_mm", &R::lower, &plate::Point::x_mm),
                                        column("lower_y_mm", &R::lower, &plate::Point::y_mm),
                                        column("upper_x_mm", &R::upper, &plate::Point::x_mm),
                                        column("upper_y_mm", &R::upper, &plate::Point::y_mm),
                                        column("width_mm", &R::width_mm),
                                        column("height_mm", &R::height_mm),
                                        column("end_height_mm", &R::end_height_mm),
                                        column("fullness", &R::fullness),
                                        column("density_kg_m3", &R::density_kg_m3)};
};

template <>
struct TableOf<plate::ThicknessReading> {
    using R = plate::ThicknessReading;
    static constexpr std::string_view name = "thickness";
    static constexpr std::tuple columns{
        column("x_mm", &R::at, &plate::Point::x_mm), column("y_mm", &R::at, &plate::Point::y_mm),
        column("thickness_mm", &R::thickness_mm), column("name", &R::name)};
};

template <>
struct TableOf<PinRecord> {
    using R = PinRecord;
    static constexpr std::string_view name = "pin";
    static constexpr std::tuple columns{
        column("session", &R::session), column("x_mm", &R::at, &plate::Point::x_mm),
        column("y_mm", &R::at, &plate::Point::y_mm), column("text", &R::text)};
};

template <>
struct TableOf<FlexRecord> {
    using R = FlexRecord;
    static constexpr std::string_view name = "flex";
    static constexpr std::tuple columns{
        column("session", &R::session), column("kind", asked("Bent how", "", "", ""), &R::kind),
        column("span_mm", asked_figure("Span between the supports, mm", "The span", "", "", k_span),
               &R::span_mm),
        column("load_g", asked_figure("Load, g", "The load", "", "", k_load), &R::load_g),
        column("deflection_mm",
               asked_figure("It went down by, mm", "The deflection", "", "", k_deflection),
               &R::deflection_mm)};
};

template <>
struct TableOf<WeighingRecord> {
    using R = WeighingRecord;
    static constexpr std::string_view name = "weighing";
    static constexpr std::tuple columns{
        column("session", &R::session),
        column("begun_ms", &R::begun),
        column("x_mm", &R::at, &plate::Point::x_mm),
        column("y_mm", &R::at, &plate::Point::y_mm),
        column("place", &R::place),
        column("thing",
               asked("What is laid on", "", "thing=THING", "What it was: putty or magnets [putty]"),
               &R::thing),
        column("mass_g",
               asked_figure("Its mass, g", "The mass", "mass=G", "What was laid on, in g",
                            k_laid_mass),
               &R::mass_g),
        column("place_sd_mm",
               asked_figure("It may lie off by, mm", "The doubt of its place", "doubt=MM",
                            "How far off its place the mass may "
                            "lie, each way [2]",
                            k_off_place),
               &R::place_sd_mm)};
};

template <>
struct TableOf<PlanRecord> { // its modes and strokes lie in tables of their own
    using R = PlanRecord;
    static constexpr std::string_view name = "plan";
    static constexpr std::tuple columns{column("session", &R::session),
                                        column(Role::made, "made_ms", &R::made),
                                        column("pass_share", &R::pass_share),
                                        column("wood_g", &R::wood_g),
                                        column("model_version", &R::model_version),
                                        column("summary", &R::summary)};
};

template <>
struct TableOf<plate::PlanOutcome> {
    using R = plate::PlanOutcome;
    static constexpr std::string_view name = "plan_mode";
    static constexpr std::tuple columns{
        column("number", &R::number),     column("now_hz", &R::now_hz),
        column("want_hz", &R::want_hz),   column("firmness", &R::firmness),
        column("pass_hz", &R::pass_hz),   column("pass_sd_hz", &R::pass_sd_hz),
        column("after_hz", &R::after_hz), column("after_sd_hz", &R::after_sd_hz)};
};

template <>
struct TableOf<plate::Stroke> {
    using R = plate::Stroke;
    static constexpr std::string_view name = "plan_stroke";
    static constexpr std::tuple columns{column("x_mm", &R::middle, &plate::Point::x_mm),
                                        column("y_mm", &R::middle, &plate::Point::y_mm),
                                        column("mirrored", &R::mirrored),
                                        column("depth_mm", &R::depth_mm)};
};

} // namespace platewright::ledger
