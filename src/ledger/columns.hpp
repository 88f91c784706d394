#pragma once
#include "ledger/record.hpp"

#include <string_view>
#include <tuple>

namespace platewright::ledger {

/// What is kept of each record, described once: the table it lies in, and each column with the
/// field it holds. From this come the statements that read, add and change rows
/// (tables/record_rows.hpp), what words a column may hold (tables/unfit.cpp), and the columns of
/// the CSV tables that hold a record as it is (report/tables). A new field is a member of its
/// record, a line here and a migration (tables/schema.cpp).

enum class Role {
    value,
    link, ///< what may be lacking: 0 or "" in the record, NULL in the table
    made, ///< when it was made: said once, never changed
};

template <class... Path>
struct Column {
    std::string_view name;
    Role role;
    std::tuple<Path...> path; ///< of members, from the record to the field

    constexpr auto& of(auto& record) const {
        return std::apply(
            [&](auto... step) -> auto& { return (record.*....*step); }, path);
    }
};

template <class... Path>
constexpr Column<Path...> column(std::string_view name, Path... path) {
    return {name, Role::value, {path...}};
}
template <class... Path>
constexpr Column<Path...> column(Role role, std::string_view name, Path... path) {
    return {name, role, {path...}};
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

template <>
struct TableOf<InstrumentRecord> {
    using R = InstrumentRecord;
    static constexpr std::string_view name = "instrument";
    static constexpr std::tuple columns{column("label", &R::label), column("kind", &R::kind),
                                        column("body_length_mm", &R::body_length_mm),
                                        column("notes", &R::notes),
                                        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<PlateRecord> {
    using R = PlateRecord;
    static constexpr std::string_view name = "plate";
    static constexpr std::tuple columns{column("instrument", &R::instrument),
                                        column("part", &R::part),
                                        column("label", &R::label),
                                        column("wood", &R::wood),
                                        column("density_kg_m3", &R::density_kg_m3),
                                        column("notes", &R::notes),
                                        column(Role::made, "created_ms", &R::created)};
};

template <>
struct TableOf<SessionRecord> {
    using R = SessionRecord;
    static constexpr std::string_view name = "session";
    static constexpr std::tuple columns{column("plate", &R::plate),
                                        column("begun_ms", &R::begun),
                                        column("stage", &R::stage),
                                        column("mass_g", &R::mass_g),
                                        column("temperature_c", &R::temperature_c),
                                        column("humidity_pct", &R::humidity_pct),
                                        column("notes", &R::notes)};
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
