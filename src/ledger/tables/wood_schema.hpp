#pragma once

namespace platewright::ledger {

/// The step that brought wood, what was carved from it and the maker's targets into the ledger
/// (wood_record.hpp): from schema 2 to 3. Parts and stages gained words with it: the closed body.
inline constexpr const char* k_wood_step = R"sql(
CREATE TABLE wood (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  label TEXT NOT NULL,
  species TEXT NOT NULL,
  origin TEXT NOT NULL,
  notes TEXT NOT NULL,
  created_ms INTEGER NOT NULL,
  binned_ms INTEGER
) STRICT;

CREATE TABLE wood_test (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  wood INTEGER NOT NULL REFERENCES wood (id),
  at_ms INTEGER NOT NULL,
  piece TEXT NOT NULL,
  along_mm REAL NOT NULL CHECK (along_mm > 0),
  across_mm REAL NOT NULL CHECK (across_mm > 0),
  thickness_mm REAL NOT NULL CHECK (thickness_mm > 0),
  thin_edge_mm REAL CHECK (thin_edge_mm >= 0),
  thickness_sd_mm REAL CHECK (thickness_sd_mm >= 0),
  mass_g REAL CHECK (mass_g > 0),
  temperature_c REAL CHECK (temperature_c > -274),
  humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
  moisture_pct REAL CHECK (moisture_pct >= 0),
  notes TEXT NOT NULL,
  binned_ms INTEGER
) STRICT;
CREATE INDEX wood_test_by_wood ON wood_test (wood, at_ms);

CREATE TABLE wood_tap (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  test INTEGER NOT NULL REFERENCES wood_test (id),
  at_ms INTEGER NOT NULL,
  verdict TEXT NOT NULL,
  spot TEXT NOT NULL,
  sample_rate_hz REAL NOT NULL,
  onset_frame INTEGER NOT NULL,
  onset_index INTEGER NOT NULL,
  peak_dbfs REAL NOT NULL,
  noise_dbfs REAL NOT NULL,
  recording TEXT REFERENCES recording (hash)
) STRICT;
CREATE INDEX wood_tap_by_test ON wood_tap (test);

CREATE TABLE wood_mode (
  id INTEGER PRIMARY KEY,
  test INTEGER NOT NULL REFERENCES wood_test (id),
  motion TEXT NOT NULL,
  frequency_hz REAL NOT NULL CHECK (frequency_hz > 0),
  frequency_sd_hz REAL NOT NULL,
  q REAL CHECK (q > 0),
  q_sd REAL,
  taps INTEGER NOT NULL,
  analysis_version TEXT NOT NULL,
  made_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX wood_mode_by_test ON wood_mode (test);

CREATE TABLE carving (
  id INTEGER PRIMARY KEY,
  plate INTEGER NOT NULL REFERENCES plate (id),
  wood INTEGER REFERENCES wood (id),
  said_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX carving_by_plate ON carving (plate);
CREATE INDEX carving_by_wood ON carving (wood);

CREATE TABLE target (
  id INTEGER PRIMARY KEY,
  plate INTEGER NOT NULL REFERENCES plate (id),
  number INTEGER NOT NULL,
  frequency_hz REAL CHECK (frequency_hz > 0),
  said_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX target_by_plate ON target (plate);
)sql";

} // namespace platewright::ledger
