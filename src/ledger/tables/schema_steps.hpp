#pragma once

namespace platewright::ledger {

/// The step that brought the plate's shape into the ledger (shape_record.hpp): from schema 1 to 2.
inline constexpr const char* k_shape_step = R"sql(
CREATE TABLE form (
  id INTEGER PRIMARY KEY,
  plate INTEGER NOT NULL REFERENCES plate (id),
  said_ms INTEGER NOT NULL,
  length_mm REAL NOT NULL CHECK (length_mm > 0),
  upper_mm REAL NOT NULL CHECK (upper_mm > 0),
  waist_mm REAL NOT NULL CHECK (waist_mm > 0),
  lower_mm REAL NOT NULL CHECK (lower_mm > 0),
  arch_mm REAL NOT NULL,
  edge_mm REAL NOT NULL,
  long_fullness REAL NOT NULL,
  cross_fullness REAL NOT NULL,
  species TEXT NOT NULL,
  two_piece INTEGER NOT NULL
) STRICT;
CREATE INDEX form_by_plate ON form (plate);

CREATE TABLE form_rim (
  form INTEGER NOT NULL REFERENCES form (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  PRIMARY KEY (form, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE form_height (
  form INTEGER NOT NULL REFERENCES form (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  height_mm REAL NOT NULL,
  PRIMARY KEY (form, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE form_f_hole (
  form INTEGER PRIMARY KEY REFERENCES form (id) ON DELETE CASCADE,
  upper_x_mm REAL NOT NULL,
  upper_y_mm REAL NOT NULL,
  lower_x_mm REAL NOT NULL,
  lower_y_mm REAL NOT NULL,
  slot_mm REAL NOT NULL CHECK (slot_mm > 0),
  upper_eye_mm REAL NOT NULL CHECK (upper_eye_mm > 0),
  lower_eye_mm REAL NOT NULL CHECK (lower_eye_mm > 0)
) STRICT;

CREATE TABLE form_bar (
  form INTEGER PRIMARY KEY REFERENCES form (id) ON DELETE CASCADE,
  lower_x_mm REAL NOT NULL,
  lower_y_mm REAL NOT NULL,
  upper_x_mm REAL NOT NULL,
  upper_y_mm REAL NOT NULL,
  width_mm REAL NOT NULL CHECK (width_mm > 0),
  height_mm REAL NOT NULL CHECK (height_mm > 0),
  end_height_mm REAL NOT NULL,
  fullness REAL NOT NULL CHECK (fullness > 0),
  density_kg_m3 REAL CHECK (density_kg_m3 > 0)
) STRICT;

CREATE TABLE thickness_map (
  id INTEGER PRIMARY KEY,
  session INTEGER NOT NULL REFERENCES session (id),
  made_ms INTEGER NOT NULL
) STRICT;
CREATE INDEX thickness_map_by_session ON thickness_map (session);

CREATE TABLE thickness (
  map INTEGER NOT NULL REFERENCES thickness_map (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  thickness_mm REAL NOT NULL CHECK (thickness_mm > 0),
  name TEXT NOT NULL,
  PRIMARY KEY (map, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE pin (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  text TEXT NOT NULL,
  binned_ms INTEGER
) STRICT;
CREATE INDEX pin_by_session ON pin (session);

CREATE TABLE flex (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  kind TEXT NOT NULL,
  span_mm REAL NOT NULL CHECK (span_mm > 0),
  load_g REAL NOT NULL CHECK (load_g > 0),
  deflection_mm REAL NOT NULL CHECK (deflection_mm > 0),
  binned_ms INTEGER
) STRICT;
CREATE INDEX flex_by_session ON flex (session);

CREATE TABLE plan (
  id INTEGER PRIMARY KEY,
  uid TEXT NOT NULL UNIQUE DEFAULT (lower(hex(randomblob(16)))),
  session INTEGER NOT NULL REFERENCES session (id),
  made_ms INTEGER NOT NULL,
  model_version TEXT NOT NULL,
  pass_share REAL NOT NULL,
  wood_g REAL NOT NULL,
  summary TEXT NOT NULL
) STRICT;
CREATE INDEX plan_by_session ON plan (session);

CREATE TABLE plan_mode (
  plan INTEGER NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  number INTEGER NOT NULL,
  now_hz REAL NOT NULL,
  want_hz REAL NOT NULL,
  firmness REAL NOT NULL,
  after_hz REAL NOT NULL,
  after_sd_hz REAL NOT NULL,
  pass_hz REAL NOT NULL,
  pass_sd_hz REAL NOT NULL,
  PRIMARY KEY (plan, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE plan_stroke (
  plan INTEGER NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  mirrored INTEGER NOT NULL,
  depth_mm REAL NOT NULL,
  PRIMARY KEY (plan, place)
) STRICT, WITHOUT ROWID;
)sql";

/// The step that lets the wood of a form differ left to right (FormRecord): from schema 3 to 4.
inline constexpr const char* k_two_woods_step = R"sql(
ALTER TABLE form ADD COLUMN right_density REAL NOT NULL DEFAULT 1 CHECK (right_density > 0);
ALTER TABLE form ADD COLUMN right_stiffness REAL NOT NULL DEFAULT 1 CHECK (right_stiffness > 0);
)sql";

/// The maker's own lines of the f-holes (FormRecord::f_hole_rims): from schema 7 to 8.
inline constexpr const char* k_f_hole_rim_step = R"sql(
CREATE TABLE form_f_hole_rim (
  form INTEGER NOT NULL REFERENCES form (id) ON DELETE CASCADE,
  hole INTEGER NOT NULL CHECK (hole IN (0, 1)),
  place INTEGER NOT NULL,
  x_mm REAL NOT NULL,
  y_mm REAL NOT NULL,
  PRIMARY KEY (form, hole, place)
) STRICT, WITHOUT ROWID;
)sql";

/// How the wood lies in the plate (FormRecord::rings_left_deg, …): from schema 8 to 9.
inline constexpr const char* k_grain_step = R"sql(
ALTER TABLE form ADD COLUMN rings_left_deg REAL CHECK (rings_left_deg BETWEEN -90 AND 90);
ALTER TABLE form ADD COLUMN rings_right_deg REAL CHECK (rings_right_deg BETWEEN -90 AND 90);
ALTER TABLE form ADD COLUMN run_out_deg REAL CHECK (run_out_deg BETWEEN -20 AND 20);
)sql";

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

/// The step that lets the database say of itself what was in it (witness.hpp): sums over its rows,
/// and which facts are still to be written beside the recordings. From schema 4 to 5. What an older
/// ledger holds is written beside them when it is opened for the first time.
inline constexpr const char* k_witness_step = R"sql(
CREATE TABLE seal (
  part TEXT NOT NULL,
  id INTEGER NOT NULL,
  sum INTEGER NOT NULL,
  PRIMARY KEY (part, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE facts_due (
  kind TEXT NOT NULL,
  id INTEGER NOT NULL,
  number INTEGER NOT NULL,
  PRIMARY KEY (kind, id)
) STRICT, WITHOUT ROWID;

INSERT INTO facts_due SELECT 'instrument', id, 0 FROM instrument;
INSERT INTO facts_due SELECT 'session', id, 0 FROM session;
INSERT INTO facts_due SELECT 'wood', id, 0 FROM wood;
)sql";

} // namespace platewright::ledger
