#include "ledger/rows.hpp"

#include <optional>
#include <string>

namespace platewright::ledger {
UnknownWord::UnknownWord(const std::string& word)
    : base::Failure{"The ledger's database is damaged: it holds a word that cannot be. Nothing was "
                    "changed; the folder 'backups' has earlier copies.",
                    "unknown word '" + word + "'"} {}

InstrumentRecord read_instrument(Statement& row) {
    InstrumentRecord record;
    record.id = row.integer();
    record.label = row.text();
    const std::string kind = row.text();
    // Nothing is expected of one of another kind, so a kind to come is safely read as that.
    record.kind = modes::instrument_kind_from_word(kind).value_or(modes::InstrumentKind::other);
    record.body_length_mm = row.maybe_real();
    record.notes = row.text();
    record.created = {row.integer()};
    return record;
}

PlateRecord read_plate(Statement& row) {
    PlateRecord record;
    record.id = row.integer();
    record.instrument = row.integer();
    const std::string part = row.text();
    record.part = known(modes::part_from_word(part), part);
    record.label = row.text();
    record.wood = row.text();
    record.density_kg_m3 = row.maybe_real();
    record.notes = row.text();
    record.created = {row.integer()};
    return record;
}

SessionRecord read_session(Statement& row) {
    SessionRecord record;
    record.id = row.integer();
    record.plate = row.integer();
    record.begun = {row.integer()};
    const std::string stage = row.text();
    record.stage = known(modes::stage_from_word(stage), stage);
    record.mass_g = row.maybe_real();
    record.temperature_c = row.maybe_real();
    record.humidity_pct = row.maybe_real();
    record.notes = row.text();
    return record;
}

TapRecord read_tap(Statement& row) {
    TapRecord record;
    record.id = row.integer();
    record.session = row.integer();
    record.at = {row.integer()};
    const std::string verdict = row.text();
    record.verdict = known(taps::verdict_from_word(verdict), verdict);
    const std::string spot = row.text();
    record.spot = taps::spot_from_word(spot).value_or(taps::Spot::unknown);
    record.sample_rate_hz = row.real();
    record.onset_frame = row.integer();
    record.onset_index = row.integer();
    record.peak_dbfs = row.real();
    record.noise_dbfs = row.real();
    record.recording = row.text();
    record.weighing = row.maybe_integer().value_or(0);
    return record;
}

modes::Partial read_partial(Statement& row) {
    modes::Partial partial;
    partial.frequency_hz = row.real();
    partial.frequency_sd_hz = row.real();
    partial.q = row.real();
    partial.q_sd = row.real();
    partial.level_db = row.real();
    partial.level_dbfs = row.real();
    partial.level_sd_db = row.real();
    partial.phase_rad = row.real();
    partial.phase_sd_rad = row.real();
    return partial;
}

ModeRecord read_mode(Statement& row) {
    ModeRecord record;
    record.id = row.integer();
    record.session = row.integer();
    record.analysis_version = row.text();
    record.mode.frequency_hz = row.real();
    record.mode.frequency_sd_hz = row.real();
    record.mode.spread_hz = row.real();
    record.mode.q = row.real();
    record.mode.q_sd = row.real();
    record.mode.level_db = row.real();
    record.mode.taps = static_cast<int>(row.integer());
    const std::optional<std::int64_t> number = row.maybe_integer();
    const std::optional<double> confidence = row.maybe_real();
    if (number)
        record.name = modes::ModeName{static_cast<int>(*number), confidence.value_or(0.0), false};
    return record;
}

modes::SpotLevel read_spot(Statement& row) {
    modes::SpotLevel level;
    const std::string spot = row.text();
    level.spot = taps::spot_from_word(spot).value_or(taps::Spot::unknown);
    level.level_db = row.real();
    level.level_sd_db = row.real();
    level.taps = static_cast<int>(row.integer());
    return level;
}

} // namespace platewright::ledger
