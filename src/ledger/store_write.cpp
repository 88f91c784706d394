// The half of Store that changes things.
#include "base/failure.hpp"
#include "ledger/files/recording_file.hpp"
#include "ledger/files/tap_label.hpp"
#include "ledger/store_impl.hpp"
#include "ledger/tables/rows.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <fmt/format.h>
#include <stdexcept>
#include <utility>

namespace platewright::ledger {
namespace {

std::int64_t now_ms() { return base::now().ms_since_epoch; }

void keep_reading(Database& database, Id tap, std::string_view analysis_version,
                  const std::vector<modes::Partial>& partials) {
    const Id reading = database.execute(
        "INSERT INTO reading (tap, analysis_version, made_ms) VALUES (?, ?, ?)", tap,
        analysis_version,
        moment_after(database, "SELECT max(made_ms) FROM reading WHERE tap = ?", tap));
    insert_list(database, partials, "reading", reading);
}

void keep_mode(Database& database, Id set, const ModeRecord& record) {
    std::optional<int> number;
    std::optional<double> confidence;
    if (record.name) {
        number = record.name->number;
        confidence = record.name->confidence;
    }
    const Id id = insert_row(database, record.mode, Beside{"mode_set", set},
                             Beside{"number", number}, Beside{"confidence", confidence});
    for (const modes::SpotLevel& spot : record.mode.spots)
        insert_row(database, spot, Beside{"mode", id});
}

// The table's name is one of ours, never the caller's text.
const char* binning_sql(std::string_view table) {
    constexpr std::array<std::pair<std::string_view, const char*>, 10> k_statements{{
        {"instrument", "UPDATE instrument SET binned_ms = ? WHERE id = ?"},
        {"plate", "UPDATE plate SET binned_ms = ? WHERE id = ?"},
        {"session", "UPDATE session SET binned_ms = ? WHERE id = ?"},
        {"tap", "UPDATE tap SET binned_ms = ? WHERE id = ?"},
        {"reference", "UPDATE reference SET binned_ms = ? WHERE id = ?"},
        {"pin", "UPDATE pin SET binned_ms = ? WHERE id = ?"},
        {"flex", "UPDATE flex SET binned_ms = ? WHERE id = ?"},
        {"weighing", "UPDATE weighing SET binned_ms = ? WHERE id = ?"},
        {"wood", "UPDATE wood SET binned_ms = ? WHERE id = ?"},
        {"wood_test", "UPDATE wood_test SET binned_ms = ? WHERE id = ?"},
    }};
    for (const auto& [name, sql] : k_statements)
        if (name == table)
            return sql;
    throw std::invalid_argument{"nothing called '" + std::string{table} + "' can be binned"};
}

} // namespace

std::int64_t moment_after(Database& database, const std::string& newest, Id parent) {
    const auto last = database.first_integer(newest, parent);
    return last ? std::max(now_ms(), *last + 1) : now_ms();
}

std::string Store::Impl::uid_of_row(const char* table, Id id) {
    const auto uid =
        database->first_text(std::string{"SELECT uid FROM "} + table + " WHERE id = ?", id);
    if (!uid)
        throw std::invalid_argument{std::string{"no such "} + table + " in the ledger"};
    return *uid;
}

std::string Store::Impl::new_uid() {
    return database->first_text("SELECT lower(hex(randomblob(16)))").value();
}

std::string Store::Impl::keep_recording(const char* owner, const std::string& tap_uid,
                                        const TapRecord& record, const std::vector<float>& samples,
                                        const HammerForce& force) {
    const auto rate = static_cast<int>(std::lround(record.sample_rate_hz));
    const TapLabel label{uid_of_row(owner, record.session),
                         record.at,
                         record.onset_frame,
                         record.onset_index,
                         record.spot,
                         record.verdict,
                         witness->facts_of_tap(owner, tap_uid, record)};
    std::vector<std::byte> bytes = encode_recording(samples, rate, to_text(label), force);
    std::string hash = sha256_hex(bytes);
    const std::filesystem::path file = recording_file(hash);
    know_recording(*database, hash, rate, samples.size(), bytes.size());
    std::error_code error;
    if (std::filesystem::file_size(file, error) != bytes.size() || error)
        write_recording(hash, std::move(bytes));
    return hash;
}

void Store::Impl::write_recording(const std::string& hash, std::vector<std::byte> bytes) {
    const std::filesystem::path file = recording_file(hash);
    make_own_folder(file.parent_path());
    write_durably(file, bytes, staging());
    journal_.add_recording(hash, std::move(bytes));
}

Id Store::add(const InstrumentRecord& instrument) { return impl_->add_record(instrument); }
Id Store::add(const PlateRecord& plate) { return impl_->add_record(plate); }
Id Store::add(const SessionRecord& session) { return impl_->add_record(session); }
void Store::update(const InstrumentRecord& instrument) { impl_->update_record(instrument); }
void Store::update(const PlateRecord& plate) { impl_->update_record(plate); }
void Store::update(const SessionRecord& session) { impl_->update_record(session); }

void Store::Impl::keep_sound(const char* owner, const std::string& tap_uid, TapRecord& record,
                             const taps::Tap& tap, const HammerForce& force) {
    record.sample_rate_hz = tap.sample_rate_hz;
    record.onset_frame = tap.onset_frame;
    record.onset_index = static_cast<std::int64_t>(tap.onset_index);
    record.peak_dbfs = tap.peak_dbfs;
    record.noise_dbfs = tap.noise_dbfs;
    record.recording = tap.samples.empty()
                           ? std::string()
                           : keep_recording(owner, tap_uid, record, tap.samples, force);
}

Id Store::add(const TapRecord& record, const taps::Tap& tap, const HammerForce& force) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    const std::string uid = impl_->new_uid();
    TapRecord kept = record;
    impl_->keep_sound("session", uid, kept, tap, force);
    const Id id = insert_row(database, kept, Beside{"uid", uid});
    if (!record.analysis_version.empty())
        keep_reading(database, id, record.analysis_version, record.partials);
    transaction.commit();
    return id;
}

std::string Store::recording_of(Id tap) const {
    return impl_->database->first_text("SELECT recording FROM tap WHERE id = ?", tap).value_or("");
}

void Store::set_verdict(Id tap, taps::Verdict verdict) {
    impl_->update_one("UPDATE tap SET verdict = ? WHERE id = ?", taps::to_word(verdict), tap);
}

void Store::replace_reading(Id tap, std::string_view analysis_version,
                            const std::vector<modes::Partial>& partials) {
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    database.execute("DELETE FROM partial WHERE reading IN "
                     "(SELECT id FROM reading WHERE tap = ? AND analysis_version = ?)",
                     tap, analysis_version);
    database.execute("DELETE FROM reading WHERE tap = ? AND analysis_version = ?", tap,
                     analysis_version);
    keep_reading(database, tap, analysis_version, partials);
    transaction.commit();
}

void Store::add_reading(Id tap, std::string_view analysis_version,
                        const std::vector<modes::Partial>& partials) {
    Transaction transaction = impl_->change();
    keep_reading(*impl_->database, tap, analysis_version, partials);
    transaction.commit();
}

void Store::set_modes(Id session, const std::vector<ModeRecord>& modes) {
    const std::string version = modes.empty() ? std::string{} : modes.front().analysis_version;
    for (const ModeRecord& mode : modes)
        if (mode.analysis_version != version)
            throw std::invalid_argument{"the modes of one set come from one analysis"};
    Transaction transaction = impl_->change();
    Database& database = *impl_->database;
    database.execute("DELETE FROM mode_set WHERE session = ? AND analysis_version = ?", session,
                     version);
    const Id set = database.execute(
        "INSERT INTO mode_set (session, analysis_version, made_ms) VALUES (?, ?, ?)", session,
        version,
        moment_after(database, "SELECT max(made_ms) FROM mode_set WHERE session = ?", session));
    for (const ModeRecord& mode : modes)
        keep_mode(database, set, mode);
    transaction.commit();
}

void Store::name_mode(Id session, double frequency_hz, std::optional<int> number) {
    impl_->add_word(
        "INSERT INTO naming (session, frequency_hz, number, said_ms) VALUES (?, ?, ?, ?)",
        "SELECT max(said_ms) FROM naming WHERE session = ?", session, frequency_hz, number);
}

Id Store::add_reference(Id session, std::string_view label) {
    Transaction transaction = impl_->change();
    const Id id = insert_row(*impl_->database, ReferenceRecord{0, session, std::string(label)},
                             Beside{"added_ms", now_ms()});
    transaction.commit();
    return id;
}

void Store::remove_reference(Id reference) { bin("reference", reference); }

void Store::bin(std::string_view table, Id id) {
    impl_->update_one(binning_sql(table), std::optional{now_ms()}, id);
}

void Store::unbin(std::string_view table, Id id) {
    impl_->update_one(binning_sql(table), std::optional<std::int64_t>{}, id);
}

void Store::set_setting(std::string_view key, std::string_view value) {
    Transaction transaction = impl_->change();
    ledger::set_setting(*impl_->database, key, value);
    transaction.commit();
}

} // namespace platewright::ledger
