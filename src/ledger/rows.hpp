#pragma once
#include "base/failure.hpp"
#include "ledger/database.hpp"
#include "ledger/record.hpp"

#include <optional>

namespace platewright::ledger {

/// A column holds a word that this version does not know: damage, or a later program's. Whoever
/// reads a list leaves the row out (usable), and `check` tells of it; the row stays in the
/// database.
struct UnknownWord : base::Failure {
    explicit UnknownWord(const std::string& word);
};

/// The value of a word read from the database. Throws UnknownWord.
template <class Value>
Value known(std::optional<Value> value, const std::string& word) {
    if (!value)
        throw UnknownWord{word};
    return *value;
}

/// What `read` makes of a row; nothing where it holds a word that this version does not know.
template <class Read>
auto usable(const Read& read) -> std::optional<decltype(read())> {
    try {
        return read();
    } catch (const UnknownWord&) {
        return std::nullopt;
    }
}

/// A row of a query as the record it stands for. Each reader takes the columns of its list, in that
/// order; the letters are the tables' short names in the query: i instrument, p plate, s session,
/// t tap, x partial, m mode with e its mode_set.
/// Fail: UnknownWord when a column holds a word that cannot be.

inline constexpr const char* k_instrument_columns =
    "i.id, i.label, i.kind, i.body_length_mm, i.notes, i.created_ms";
InstrumentRecord read_instrument(Statement& row);

inline constexpr const char* k_plate_columns =
    "p.id, p.instrument, p.part, p.label, p.wood, p.density_kg_m3, p.notes, p.created_ms";
PlateRecord read_plate(Statement& row);

inline constexpr const char* k_session_columns =
    "s.id, s.plate, s.begun_ms, s.stage, s.mass_g, s.temperature_c, s.humidity_pct, s.notes";
SessionRecord read_session(Statement& row);

inline constexpr const char* k_tap_columns = "t.id, t.session, t.at_ms, t.verdict, t.spot, "
                                             "t.sample_rate_hz, t.onset_frame, t.onset_index, "
                                             "t.peak_dbfs, t.noise_dbfs, t.recording, t.weighing";
TapRecord read_tap(Statement& row); ///< without its reading

inline constexpr const char* k_partial_columns =
    "x.frequency_hz, x.frequency_sd_hz, x.q, x.q_sd, x.level_db, x.level_dbfs, x.level_sd_db, "
    "x.phase_rad, x.phase_sd_rad";
modes::Partial read_partial(Statement& row);

inline constexpr const char* k_mode_columns =
    "m.id, e.session, e.analysis_version, m.frequency_hz, m.frequency_sd_hz, m.spread_hz, m.q, "
    "m.q_sd, m.level_db, m.taps, m.number, m.confidence";
ModeRecord read_mode(Statement& row); ///< without its spots

inline constexpr const char* k_spot_columns = "spot, level_db, level_sd_db, taps";
modes::SpotLevel read_spot(Statement& row);

} // namespace platewright::ledger
