#pragma once
#include "ledger/asked.hpp"
#include "ledger/limits.hpp"
#include "ledger/record.hpp"

#include <string_view>
#include <tuple>
#include <type_traits>
#include <utility>

namespace platewright::ledger {

/// What is kept of each record, described once: the table it lies in, and each column with the
/// field it holds and how a maker is asked for it. From this come the statements that read, add and
/// change rows (tables/record_rows.hpp), what words a column may hold (tables/unfit.cpp), the
/// fields of JSON (main/json.hpp), columns of CSV tables (report/tables), options of the command
/// line (main/field_options.hpp) and forms (screen/fields/record_fields.hpp). A new field is a
/// member of its record, a line here and a migration (tables/schema.cpp).

enum class Role {
    value,
    link, ///< what may be lacking: 0 or "" in the record, NULL in the table
    made, ///< when it was made: said once, never changed
};

template <class... Path>
struct Column {
    std::string_view name;
    Role role;
    Asked asked;              ///< all empty where no maker is
    std::tuple<Path...> path; ///< of members, from the record to the field

    constexpr auto& of(auto& record) const {
        return std::apply(
            [&](auto... step) -> auto& { return (record.*....*step); }, path);
    }
};

template <class... Path>
constexpr Column<Path...> column(std::string_view name, Path... path) {
    return {name, Role::value, {}, {path...}};
}
template <class... Path>
constexpr Column<Path...> column(std::string_view name, const Asked& asked, Path... path) {
    return {name, Role::value, asked, {path...}};
}
template <class... Path>
constexpr Column<Path...> column(Role role, std::string_view name, Path... path) {
    return {name, role, {}, {path...}};
}

/// Specialised for each record: `name` of its table, `columns` in the order they are read in.
template <class Record>
struct TableOf;

template <class Record>
concept Numbered = requires(Record record) {
    record.id;
};

/// Calls `use(column)` for each of a record's columns in their order.
template <class Record, class Use>
constexpr void for_each_column(const Use& use) {
    std::apply([&](const auto&... column) { (use(column), ...); }, TableOf<Record>::columns);
}

/// A column's name in JSON and CSV, where it is another there; a moment has no unit of its own.
constexpr std::string_view shown_name(std::string_view column) {
    using Names = std::pair<std::string_view, std::string_view>;
    for (const auto& [kept, shown] :
         {Names{"frequency_hz", "hz"}, Names{"frequency_sd_hz", "hz_sd"},
          Names{"pass_sd_hz", "pass_hz_sd"}, Names{"after_sd_hz", "after_hz_sd"},
          Names{"analysis_version", "analysis"}, Names{"model_version", "model"},
          Names{"two_piece", "pieces"}, Names{"deflection_mm", "measured_mm"}})
        if (column == kept)
            return shown;
    return column.ends_with("_ms") ? column.substr(0, column.size() - 3) : column;
}

/// Calls `use(name, column)` for the columns of a record that JSON and CSV show; numbers of other
/// rows are theirs to say.
template <class Record, class Use>
constexpr void for_each_shown(const Use& use) {
    for_each_column<Record>([&](const auto& column) {
        using Field = std::remove_cvref_t<decltype(column.of(std::declval<Record&>()))>;
        if constexpr (!std::is_same_v<Field, Id>)
            use(shown_name(column.name), column);
    });
}

template <>
struct TableOf<InstrumentRecord> {
    using R = InstrumentRecord;
    static constexpr std::string_view name = "instrument";
    static constexpr std::tuple columns{
        column("label",
               asked("label",
                     "Give the instrument a label, such as its number or its future owner.",
                     "label=NAME", "What it is called", Takes::name),
               &R::label),
        column("kind", asked("kind", "", "kind=KIND", "violin, viola, cello, double_bass or other"),
               &R::kind),
        column("body_length_mm",
               asked_figure("length of the body, mm; empty: full size", "The body's length",
                            "body-length=MM",
                            "Length of the body in mm: of small sizes, violas, basses",
                            k_body_length),
               &R::body_length_mm),
        column("notes", asked("notes", "", "notes=TEXT", "Notes on it", Takes::notes), &R::notes),
        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<PlateRecord> {
    using R = PlateRecord;
    static constexpr std::string_view name = "plate";
    static constexpr std::tuple columns{
        column("instrument", &R::instrument),
        column("label", asked("label", "", "label=NAME", "What it is called", Takes::name),
               &R::label),
        column("part", asked("part", "", "part=PART", "top, back or body (the closed instrument)"),
               &R::part),
        column("wood", asked("wood: kind, origin, cut", "", "wood=TEXT", "The wood, in your words"),
               &R::wood),
        column("density_kg_m3",
               asked_figure("density, kg/m\u00b3", "The density", "density=KG_M3",
                            "Density of its wood in kg/m³, where it was measured", k_density),
               &R::density_kg_m3),
        column(
            "notes",
            asked("notes: outline, arching, grain", "", "notes=TEXT", "Notes on it", Takes::notes),
            &R::notes),
        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<SessionRecord> {
    using R = SessionRecord;
    static constexpr std::string_view name = "session";
    static constexpr std::tuple columns{
        column("plate", &R::plate),
        column("begun_ms", &R::begun),
        column("stage",
               asked("stage of the work", "", "stage=STAGE",
                     "Of a plate: rough, graduating, graduated, f_holes_cut, bar_fitted, finished; "
                     "of a body: closed, varnished, set_up"),
               &R::stage),
        column("mass_g",
               asked_figure("mass, g", "The mass", "mass=G",
                            "Weighed mass in g; a decimal comma is fine", k_mass, 1),
               &R::mass_g),
        column("temperature_c",
               asked_figure("temperature, \u00b0C", "The temperature", "temperature=C",
                            "Room temperature in °C", k_temperature, 1),
               &R::temperature_c),
        column("humidity_pct",
               asked_figure("humidity, %", "The humidity", "humidity=PCT", "Relative humidity in %",
                            k_humidity),
               &R::humidity_pct),
        column("notes", asked("notes", "", "notes=TEXT", "Notes on the session", Takes::notes),
               &R::notes)};
};

/// Of the tap itself: what a tap of a plate and one of wood have in common.
inline constexpr std::tuple k_tap_columns{column("at_ms", &TapRecord::at),
                                          column("verdict", &TapRecord::verdict),
                                          column("spot", &TapRecord::spot),
                                          column("sample_rate_hz", &TapRecord::sample_rate_hz),
                                          column("onset_frame", &TapRecord::onset_frame),
                                          column("onset_index", &TapRecord::onset_index),
                                          column("peak_dbfs", &TapRecord::peak_dbfs),
                                          column("noise_dbfs", &TapRecord::noise_dbfs),
                                          column(Role::link, "recording", &TapRecord::recording)};

template <>
struct TableOf<TapRecord> { // its reading's partials lie in a table of their own
    static constexpr std::string_view name = "tap";
    static constexpr auto columns =
        std::tuple_cat(std::tuple{column("session", &TapRecord::session)}, k_tap_columns,
                       std::tuple{column(Role::link, "weighing", &TapRecord::weighing)});
};

/// A tap of a piece of wood: a TapRecord whose session is the test.
struct WoodTapRecord : TapRecord {};
template <>
struct TableOf<WoodTapRecord> {
    static constexpr std::string_view name = "wood_tap";
    static constexpr auto columns =
        std::tuple_cat(std::tuple{column("test", &TapRecord::session)}, k_tap_columns);
};

template <>
struct TableOf<modes::Partial> {
    using R = modes::Partial;
    static constexpr std::string_view name = "partial";
    static constexpr std::tuple columns{column("frequency_hz", &R::frequency_hz),
                                        column("frequency_sd_hz", &R::frequency_sd_hz),
                                        column("q", &R::q),
                                        column("q_sd", &R::q_sd),
                                        column("level_db", &R::level_db),
                                        column("level_dbfs", &R::level_dbfs),
                                        column("level_sd_db", &R::level_sd_db),
                                        column("phase_rad", &R::phase_rad),
                                        column("phase_sd_rad", &R::phase_sd_rad)};
};

template <>
struct TableOf<modes::Mode> { // its name and its spots lie beside it
    using R = modes::Mode;
    static constexpr std::string_view name = "mode";
    static constexpr std::tuple columns{column("frequency_hz", &R::frequency_hz),
                                        column("frequency_sd_hz", &R::frequency_sd_hz),
                                        column("spread_hz", &R::spread_hz),
                                        column("q", &R::q),
                                        column("q_sd", &R::q_sd),
                                        column("level_db", &R::level_db),
                                        column("taps", &R::taps)};
};

template <>
struct TableOf<modes::SpotLevel> {
    using R = modes::SpotLevel;
    static constexpr std::string_view name = "mode_spot";
    static constexpr std::tuple columns{column("spot", &R::spot), column("level_db", &R::level_db),
                                        column("level_sd_db", &R::level_sd_db),
                                        column("taps", &R::taps)};
};

template <>
struct TableOf<ReferenceRecord> {
    using R = ReferenceRecord;
    static constexpr std::string_view name = "reference";
    static constexpr std::tuple columns{column("session", &R::session), column("label", &R::label)};
};

} // namespace platewright::ledger
