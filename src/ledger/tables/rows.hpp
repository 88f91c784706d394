#pragma once
#include "ledger/record.hpp"
#include "ledger/tables/database.hpp"

namespace platewright::ledger {

/// What the ledger remembers under a name; nothing where it does not.
std::optional<std::string> setting(Database& database, std::string_view key);
void set_setting(Database& database, std::string_view key, std::string_view value);

/// Makes a recording that lies in its file be known; nothing changes where it is known already.
void know_recording(Database& database, std::string_view hash, std::int64_t sample_rate_hz,
                    std::size_t frames, std::size_t bytes);
bool is_known_recording(Database& database, std::string_view hash);

/// Reads what is kept of wood and of targets.
/// Fail: base::Failure when a column holds a word that cannot be.
WoodHistory read_wood_history(Database& database, WoodRecord wood);

/// The wood a plate was carved from, where that was said and it does not lie in the bin.
std::optional<WoodHistory> read_carved_from(Database& database, Id plate);
std::vector<TargetRecord> read_targets(Database& database, Id plate);

/// Reads what is kept of shapes; the newest form and the newest map count.
/// Fail: UnknownWord when a column holds a word that cannot be.
std::optional<FormRecord> read_form(Database& database, Id plate);
/// Fills in thickness, pins, flex readings, weighings and the newest plan.
void read_shape(Database& database, SessionHistory& session);

} // namespace platewright::ledger
