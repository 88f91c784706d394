#include "ledger/tables/schema.hpp"

#include "base/clock.hpp"
#include "base/failure.hpp"
#include "ledger/files/file_safety.hpp"
#include "ledger/tables/schema_steps.hpp"

#include <array>
#include <fmt/format.h>
#include <iterator>

namespace platewright::ledger {
namespace {

constexpr const char* k_step_1 = R"sql(
CREATE TABLE instrument (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  label TEXT NOT NULL,
  kind TEXT NOT NULL,
  notes TEXT NOT NULL,
  created_ms INTEGER NOT NULL,
  binned_ms INTEGER
) STRICT;

CREATE TABLE plate (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  instrument INTEGER NOT NULL REFERENCES instrument (id),
  part TEXT NOT NULL,
  label TEXT NOT NULL,
  wood TEXT NOT NULL,
  density_kg_m3 REAL CHECK (density_kg_m3 > 0),
  notes TEXT NOT NULL,
  created_ms INTEGER NOT NULL,
  binned_ms INTEGER
) STRICT;
CREATE INDEX plate_by_instrument ON plate (instrument);

CREATE TABLE session (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  plate INTEGER NOT NULL REFERENCES plate (id),
  begun_ms INTEGER NOT NULL,
  stage TEXT NOT NULL,
  mass_g REAL CHECK (mass_g > 0),
  temperature_c REAL CHECK (temperature_c > -274),
  humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
  notes TEXT NOT NULL,
  binned_ms INTEGER
) STRICT;
CREATE INDEX session_by_plate ON session (plate, begun_ms);

CREATE TABLE recording (
  hash TEXT PRIMARY KEY CHECK (length(hash) = 64),
  sample_rate_hz INTEGER NOT NULL,
  frames INTEGER NOT NULL,
  bytes INTEGER NOT NULL,
  kept_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE tap (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  at_ms INTEGER NOT NULL,
  verdict TEXT NOT NULL,
  spot TEXT NOT NULL,
  sample_rate_hz REAL NOT NULL,
  onset_frame INTEGER NOT NULL,
  onset_index INTEGER NOT NULL,
  peak_dbfs REAL NOT NULL,
  noise_dbfs REAL NOT NULL,
  recording TEXT REFERENCES recording (hash),
  binned_ms INTEGER
) STRICT;
CREATE INDEX tap_by_session ON tap (session);

CREATE TABLE reading (
  id INTEGER PRIMARY KEY,
  tap INTEGER NOT NULL REFERENCES tap (id),
  analysis_version TEXT NOT NULL,
  made_ms INTEGER NOT NULL,
  UNIQUE (tap, analysis_version)
) STRICT;

CREATE TABLE partial (
  reading INTEGER NOT NULL REFERENCES reading (id),
  place INTEGER NOT NULL,
  frequency_hz REAL NOT NULL,
  frequency_sd_hz REAL NOT NULL,
  q REAL NOT NULL,
  q_sd REAL NOT NULL,
  level_db REAL NOT NULL,
  level_dbfs REAL NOT NULL,
  level_sd_db REAL NOT NULL,
  phase_rad REAL NOT NULL,
  phase_sd_rad REAL NOT NULL,
  PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE mode_set (
  id INTEGER PRIMARY KEY,
  session INTEGER NOT NULL REFERENCES session (id),
  analysis_version TEXT NOT NULL,
  made_ms INTEGER NOT NULL,
  UNIQUE (session, analysis_version)
) STRICT;

CREATE TABLE mode (
  id INTEGER PRIMARY KEY,
  mode_set INTEGER NOT NULL REFERENCES mode_set (id) ON DELETE CASCADE,
  frequency_hz REAL NOT NULL,
  frequency_sd_hz REAL NOT NULL,
  spread_hz REAL NOT NULL,
  q REAL NOT NULL,
  q_sd REAL NOT NULL,
  level_db REAL NOT NULL,
  taps INTEGER NOT NULL,
  number INTEGER,
  confidence REAL
) STRICT;
CREATE INDEX mode_by_set ON mode (mode_set);

CREATE TABLE mode_spot (
  mode INTEGER NOT NULL REFERENCES mode (id) ON DELETE CASCADE,
  spot TEXT NOT NULL,
  level_db REAL NOT NULL,
  level_sd_db REAL NOT NULL,
  taps INTEGER NOT NULL,
  PRIMARY KEY (mode, spot)
) STRICT, WITHOUT ROWID;

CREATE TABLE naming (
  id INTEGER PRIMARY KEY,
  session INTEGER NOT NULL REFERENCES session (id),
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0),
  number INTEGER,
  said_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX naming_by_session ON naming (session);

CREATE TABLE reference (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  label TEXT NOT NULL,
  added_ms INTEGER NOT NULL,
  binned_ms INTEGER
) STRICT;
CREATE INDEX reference_by_session ON reference (session);

CREATE TABLE setting (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
)sql";

/// How long an instrument's body is: of small sizes and of basses the kind does not tell. From
/// schema 5 to 6.
constexpr const char* k_body_length_step = R"sql(
ALTER TABLE instrument ADD COLUMN body_length_mm REAL CHECK (body_length_mm > 0);
)sql";

/// Masses laid on a plate to weigh its modes, and the taps made with them on. From schema 6 to 7.
constexpr const char* k_weighing_step = R"sql(
CREATE TABLE weighing (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  begun_ms INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  place TEXT NOT NULL,
  thing TEXT NOT NULL,
  mass_g REAL NOT NULL CHECK (mass_g > 0),
  place_sd_mm REAL NOT NULL CHECK (place_sd_mm >= 0),
  binned_ms INTEGER
) STRICT;
CREATE INDEX weighing_by_session ON weighing (session);
ALTER TABLE tap ADD COLUMN weighing INTEGER REFERENCES weighing (id);
)sql";

/// What became of a tap may be `doubtful` or `vouched`: words that a program of schema 9 does not
/// know, and nothing else. From schema 9 to 10.
constexpr const char* k_doubtful_step = "";

constexpr std::array k_steps{k_step_1,       k_shape_step,       k_wood_step,     k_two_woods_step,
                             k_witness_step, k_body_length_step, k_weighing_step, k_f_hole_rim_step,
                             k_grain_step,   k_doubtful_step};

std::int64_t pragma(Database& database, const char* sql) {
    return database.first_integer(sql).value_or(0);
}

bool is_empty(Database& database) {
    return pragma(database, "SELECT count(*) FROM sqlite_schema") == 0;
}

} // namespace

SchemaSteps schema_steps() { return k_steps; }

std::int64_t schema_version(Database& database, SchemaSteps steps) {
    const std::int64_t owner = pragma(database, "PRAGMA application_id");
    const std::int64_t version = pragma(database, "PRAGMA user_version");
    if (owner == 0 && version == 0 && is_empty(database))
        return 0;
    if (owner != k_application_id || version < 1)
        throw base::Failure{"The file ledger.sqlite in this folder belongs to another program. "
                            "Choose another folder; nothing was changed."};
    if (version > std::ssize(steps))
        throw base::Failure{
            fmt::format("This ledger was written by a newer Platewright (its tables are version "
                        "{}, this program knows {}). Install the newer program to open it; nothing "
                        "was changed.",
                        version, steps.size())};
    return version;
}

void copy_aside(Database& database, const std::filesystem::path& backups, const std::string& name) {
    make_folder_durably(backups);
    database.copy_to(backups / fmt::format("{}-at-{}.sqlite", name, base::now().ms_since_epoch));
}

void migrate(Database& database, const std::filesystem::path& backups, SchemaSteps steps) {
    const std::int64_t version = schema_version(database, steps);
    if (version == std::ssize(steps))
        return;
    if (version > 0 && !backups.empty())
        copy_aside(database, backups, fmt::format("before-schema-{}", version + 1));
    Transaction transaction{database};
    for (const char* step : steps.subspan(static_cast<std::size_t>(version)))
        database.run(step);
    database.run(fmt::format("PRAGMA application_id = {}", k_application_id));
    database.run(fmt::format("PRAGMA user_version = {}", steps.size()));
    Statement violations{database, "PRAGMA foreign_key_check"};
    if (violations.step())
        throw base::Failure{"The ledger could not be brought up to this program's version and was "
                            "left as it was; a copy lies in its folder 'backups'.",
                            "foreign key violated after migration in " + violations.text()};
    transaction.commit();
}

} // namespace platewright::ledger
