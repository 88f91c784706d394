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

} // namespace platewright::ledger
