#pragma once
#include "ledger/columns.hpp"

namespace platewright::ledger {

// Columns of what is kept of the wood in stock (wood_record.hpp).

template <>
struct TableOf<WoodRecord> {
    using R = WoodRecord;
    static constexpr std::string_view name = "wood";
    static constexpr std::tuple columns{
        column("label",
               asked("name in your stock", "Give the wood a name, as it has in your stock.", "", "",
                     Takes::name),
               &R::label),
        column("species",
               asked("handbook wood", "none of these", "species=KEY",
                     "Handbook wood, where it is new: sitka_spruce, engelmann_spruce, "
                     "norway_spruce, sugar_maple, red_maple",
                     Takes::species),
               &R::species),
        column("origin",
               asked("origin: where from, when felled", "", "origin=TEXT",
                     "Where from, when felled, in your words"),
               &R::origin),
        column("notes", asked("notes", "", "", "", Takes::notes), &R::notes),
        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<WoodTestRecord> {
    using R = WoodTestRecord;
    static constexpr std::string_view name = "wood_test";
    static constexpr std::tuple columns{
        column("wood", &R::wood),
        column("at_ms", &R::at),
        column("piece",
               asked("what it is", "", "piece=PIECE", "billet, wedge, bar or board [board]"),
               &R::piece),
        column("along_mm",
               asked_figure("along the grain, mm", "The length along the grain", "along=MM",
                            "Extent along the grain in mm; a decimal comma is fine", k_along),
               &R::along_mm),
        column("across_mm",
               asked_figure("across the grain, mm", "The width across the grain", "across=MM",
                            "Extent across it in mm", k_across),
               &R::across_mm),
        column("thickness_mm",
               asked_figure("thickness, mm", "The thickness", "thickness=MM",
                            "Thickness in mm; of a wedge: its thick edge", k_thickness),
               &R::thickness_mm),
        column("thin_edge_mm",
               asked_figure("thin edge, mm", "The thin edge", "thin-edge=MM",
                            "Thin edge of a wedge in mm", k_thin_edge),
               &R::thin_edge_mm),
        column("thickness_sd_mm",
               asked_figure("thickness strays by, mm", "The unevenness", "uneven=MM",
                            "How far the thickness strays, standard deviation in mm [0.05]",
                            k_unevenness),
               &R::thickness_sd_mm),
        column("mass_g",
               asked_figure("mass, g", "The mass", "mass=G", "Weighed mass in g", k_wood_mass),
               &R::mass_g),
        column("temperature_c",
               asked_figure("temperature, \u00b0C", "The temperature", "temperature=C",
                            "Air it had settled to, in °C", k_temperature),
               &R::temperature_c),
        column("humidity_pct",
               asked_figure("humidity, %", "The humidity", "humidity=PCT",
                            "Its relative humidity in %", k_humidity),
               &R::humidity_pct),
        column("moisture_pct",
               asked_figure("moisture by a meter, %", "The wood's moisture", "moisture=PCT",
                            "Moisture of the wood by a meter, % of dry mass", k_moisture),
               &R::moisture_pct),
        column("notes", asked("", "", "notes=TEXT", "Notes on the test", Takes::notes), &R::notes)};
};

template <>
struct TableOf<WoodModeRecord> {
    using R = WoodModeRecord;
    static constexpr std::string_view name = "wood_mode";
    static constexpr std::tuple columns{column("motion", &R::motion),
                                        column("frequency_hz", &R::frequency_hz),
                                        column("frequency_sd_hz", &R::frequency_sd_hz),
                                        column("q", &R::q),
                                        column("q_sd", &R::q_sd),
                                        column("taps", &R::taps),
                                        column("analysis_version", &R::analysis_version)};
};

template <>
struct TableOf<TargetRecord> {
    using R = TargetRecord;
    static constexpr std::string_view name = "target";
    static constexpr std::tuple columns{column("number", &R::number),
                                        column("frequency_hz", &R::frequency_hz)};
};

} // namespace platewright::ledger
