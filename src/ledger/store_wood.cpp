// The part of Store that keeps wood, what was carved from it, and the maker's targets.
#include "ledger/store_impl.hpp"
#include "ledger/wood_rows.hpp"

namespace platewright::ledger {
namespace {

void keep_wood_mode(Database& database, Id test, const WoodModeRecord& mode) {
    database.execute(
        "INSERT INTO wood_mode (test, motion, frequency_hz, frequency_sd_hz, q, q_sd, "
        "taps, analysis_version, made_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        test, to_word(mode.motion), mode.frequency_hz, mode.frequency_sd_hz, mode.q, mode.q_sd,
        mode.taps, mode.analysis_version,
        moment_after(database, "SELECT max(made_ms) FROM wood_mode WHERE test = ?", test));
}

} // namespace

Id Store::add(const WoodRecord& wood) {
    return impl_->insert("INSERT INTO wood (label, species, origin, notes, created_ms) "
                         "VALUES (?, ?, ?, ?, ?)",
                         wood.label, wood.species, wood.origin, wood.notes,
                         wood.created.ms_since_epoch);
}

void Store::update(const WoodRecord& wood) {
    impl_->update_one("UPDATE wood SET label = ?, species = ?, origin = ?, notes = ? WHERE id = ?",
                      wood.label, wood.species, wood.origin, wood.notes, wood.id);
}

Id Store::add(const WoodTestRecord& test, std::span<const WoodModeRecord> modes) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const Id id = database.execute(
        "INSERT INTO wood_test (wood, at_ms, piece, along_mm, across_mm, thickness_mm, "
        "thin_edge_mm, thickness_sd_mm, mass_g, temperature_c, humidity_pct, moisture_pct, notes) "
        "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        test.wood, test.at.ms_since_epoch, to_word(test.piece), test.along_mm, test.across_mm,
        test.thickness_mm, test.thin_edge_mm, test.thickness_sd_mm, test.mass_g, test.temperature_c,
        test.humidity_pct, test.moisture_pct, test.notes);
    for (const WoodModeRecord& mode : modes)
        keep_wood_mode(database, id, mode);
    transaction.commit();
    return id;
}

void Store::add_wood_modes(Id test, std::span<const WoodModeRecord> modes) {
    Transaction transaction = impl_->change();
    for (const WoodModeRecord& mode : modes)
        keep_wood_mode(*impl_->database, test, mode);
    transaction.commit();
}

Id Store::add_wood_tap(Id test, const TapRecord& record, const taps::Tap& tap) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    std::optional<std::string> recording;
    const std::string uid = impl_->new_uid();
    if (!tap.samples.empty())
        recording = impl_->keep_recording("wood_test", test, uid, record, tap);
    const Id id = database.execute(
        "INSERT INTO wood_tap (uid, test, at_ms, verdict, spot, sample_rate_hz, onset_frame, "
        "onset_index, peak_dbfs, noise_dbfs, recording) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        uid, test, record.at.ms_since_epoch, taps::to_word(record.verdict),
        taps::to_word(record.spot), tap.sample_rate_hz, tap.onset_frame,
        static_cast<std::int64_t>(tap.onset_index), tap.peak_dbfs, tap.noise_dbfs, recording);
    transaction.commit();
    return id;
}

void Store::set_carved(Id plate, std::optional<Id> wood) {
    impl_->add_word("INSERT INTO carving (plate, wood, said_ms) VALUES (?, ?, ?)",
                    "SELECT max(said_ms) FROM carving WHERE plate = ?", plate, wood);
}

void Store::set_target(Id plate, int number, std::optional<double> frequency_hz) {
    impl_->add_word("INSERT INTO target (plate, number, frequency_hz, said_ms) VALUES (?, ?, ?, ?)",
                    "SELECT max(said_ms) FROM target WHERE plate = ?", plate, number, frequency_hz);
}

std::vector<WoodHistory> Store::wood_stock() const {
    Database& database = *impl_->database;
    const Transaction one_moment{database, Transaction::Kind::read};
    Statement rows{database, std::string{"SELECT "} + k_wood_columns +
                                 " FROM wood w WHERE w.binned_ms IS NULL ORDER BY w.label, w.id"};
    std::vector<WoodHistory> stock;
    while (rows.step())
        stock.push_back(read_wood_history(database, read_wood(rows)));
    return stock;
}

} // namespace platewright::ledger
