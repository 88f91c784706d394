#pragma once

namespace platewright::ledger {

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
