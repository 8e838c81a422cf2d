/** Schema 1. Instants are ms since 1970 UTC unless a name says otherwise; values are millionths of the stored unit. */
export const first = {
  version: 1,
  note: 'First schema.',
  sql: `
CREATE TABLE channel (
  id INTEGER PRIMARY KEY,
  sensor TEXT NOT NULL,
  quantity TEXT NOT NULL,
  probe TEXT NOT NULL,
  unit TEXT NOT NULL,
  created_at INTEGER NOT NULL,
  last_known_micro INTEGER,
  last_known_at INTEGER,
  UNIQUE (sensor, quantity, probe, unit)
) STRICT;

-- What came in since its day was sealed: one row a group commit and day, so that a commit touches one or two pages.
-- id = UTC day since 1970 * 2^32 + a number that counts up.
CREATE TABLE reading_hot (
  id INTEGER PRIMARY KEY,
  readings BLOB NOT NULL
) STRICT;

-- One row a channel and UTC day; id = channel * 65536 + day since 1970, so that a season is one range.
-- A rowid table: blobs over about 1 KB would spill to overflow pages in a WITHOUT ROWID one.
CREATE TABLE reading_day (
  id INTEGER PRIMARY KEY,
  times_id INTEGER,
  readings BLOB NOT NULL
) STRICT;

-- Times that several channels of a day share; id is the key of the first of them, uses how many there are.
CREATE TABLE reading_times (
  id INTEGER PRIMARY KEY,
  uses INTEGER NOT NULL,
  times BLOB NOT NULL
) STRICT;
CREATE INDEX reading_times_unused ON reading_times (id) WHERE uses <= 0;

-- Roll-ups of the same day; they outlive the raw readings. Suspects are not in them.
CREATE TABLE rollup_day (
  id INTEGER PRIMARY KEY,
  count INTEGER NOT NULL,
  min INTEGER,
  max INTEGER,
  sum INTEGER,
  last INTEGER,
  hours BLOB NOT NULL
) STRICT;

-- The newest sealed reading of each channel; what is newer stands in reading_hot.
CREATE TABLE latest (
  channel_id INTEGER PRIMARY KEY,
  readings INTEGER NOT NULL,
  first_ms INTEGER NOT NULL,
  at_ms INTEGER NOT NULL,
  micro INTEGER NOT NULL,
  flag INTEGER NOT NULL
) STRICT;

CREATE TABLE reading_conflict (
  channel_id INTEGER NOT NULL,
  at_ms INTEGER NOT NULL,
  micro INTEGER NOT NULL,
  received_at INTEGER NOT NULL,
  times INTEGER NOT NULL,
  PRIMARY KEY (channel_id, at_ms, micro)
) STRICT, WITHOUT ROWID;

CREATE TABLE calibration (
  id INTEGER PRIMARY KEY,
  channel_id INTEGER NOT NULL REFERENCES channel (id),
  from_ms INTEGER NOT NULL,
  fact TEXT NOT NULL,
  written_at INTEGER NOT NULL,
  by TEXT
) STRICT;
CREATE INDEX calibration_channel ON calibration (channel_id, from_ms);

CREATE TABLE quarantine (
  id INTEGER PRIMARY KEY,
  topic TEXT NOT NULL,
  reason TEXT NOT NULL,
  payload BLOB NOT NULL,
  payload_bytes INTEGER NOT NULL,
  received_at INTEGER NOT NULL,
  times INTEGER NOT NULL,
  UNIQUE (topic, reason)
) STRICT;

CREATE TABLE mapping (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  enabled INTEGER NOT NULL,
  mapping TEXT NOT NULL,
  changed_at INTEGER NOT NULL
) STRICT;

CREATE TABLE site (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  time_zone TEXT NOT NULL,
  lat_deg REAL NOT NULL,
  lon_deg REAL NOT NULL,
  note TEXT
) STRICT;

CREATE TABLE hive (
  id TEXT PRIMARY KEY,
  site_id TEXT NOT NULL REFERENCES site (id),
  role TEXT NOT NULL CHECK (role IN ('nuc', 'parent')),
  name TEXT NOT NULL,
  parent_hive_id TEXT REFERENCES hive (id),
  batch TEXT,
  box TEXT NOT NULL,
  note TEXT,
  created_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;
CREATE INDEX hive_site ON hive (site_id);

CREATE TABLE assignment (
  id INTEGER PRIMARY KEY,
  channel_id INTEGER NOT NULL REFERENCES channel (id),
  hive_id TEXT REFERENCES hive (id),
  site_id TEXT REFERENCES site (id),
  spot TEXT NOT NULL,
  from_ms INTEGER NOT NULL,
  to_ms INTEGER,
  CHECK ((hive_id IS NULL) <> (site_id IS NULL)),
  CHECK (to_ms IS NULL OR to_ms > from_ms)
) STRICT;
CREATE INDEX assignment_channel ON assignment (channel_id, from_ms);
CREATE INDEX assignment_hive ON assignment (hive_id, spot) WHERE hive_id IS NOT NULL;
CREATE INDEX assignment_site ON assignment (site_id, spot) WHERE site_id IS NOT NULL;

CREATE TABLE arrival (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL,
  source TEXT NOT NULL,
  expected TEXT NOT NULL,
  queens INTEGER NOT NULL,
  state TEXT NOT NULL,
  arrived TEXT,
  dead INTEGER NOT NULL,
  note TEXT
) STRICT;

CREATE TABLE queen (
  id TEXT PRIMARY KEY,
  arrival_id TEXT REFERENCES arrival (id),
  source TEXT NOT NULL,
  line TEXT NOT NULL,
  note TEXT
) STRICT;

CREATE TABLE introduction (
  id TEXT PRIMARY KEY,
  nuc_id TEXT NOT NULL REFERENCES hive (id),
  starting_point TEXT NOT NULL,
  method TEXT NOT NULL,
  queen_id TEXT,
  arrival_id TEXT REFERENCES arrival (id),
  setup TEXT NOT NULL,
  opened_at INTEGER NOT NULL,
  closed_at INTEGER
) STRICT;
CREATE INDEX introduction_nuc ON introduction (nuc_id, opened_at);
CREATE INDEX introduction_arrival ON introduction (arrival_id) WHERE arrival_id IS NOT NULL;

-- Append-only: no statement of this program changes or deletes a row of it.
CREATE TABLE log_entry (
  id TEXT PRIMARY KEY,
  introduction_id TEXT NOT NULL REFERENCES introduction (id),
  happened_at INTEGER NOT NULL,
  written_at INTEGER NOT NULL,
  corrects TEXT,
  move_to TEXT,
  entry TEXT NOT NULL
) STRICT;
CREATE INDEX log_entry_introduction ON log_entry (introduction_id, happened_at);
CREATE INDEX log_entry_corrects ON log_entry (corrects) WHERE corrects IS NOT NULL;
CREATE INDEX log_entry_move_to ON log_entry (move_to) WHERE move_to IS NOT NULL;

CREATE TABLE alert (
  id TEXT PRIMARY KEY,
  rule_id TEXT NOT NULL,
  subject_kind TEXT NOT NULL,
  subject_id TEXT NOT NULL,
  phase TEXT NOT NULL,
  urgency TEXT NOT NULL,
  is_open INTEGER NOT NULL,
  changed_at INTEGER NOT NULL,
  state TEXT NOT NULL,
  message TEXT NOT NULL
) STRICT;
CREATE INDEX alert_open ON alert (is_open, changed_at);
CREATE INDEX alert_subject ON alert (subject_kind, subject_id, changed_at);

CREATE TABLE alert_transition (
  id INTEGER PRIMARY KEY,
  alert_id TEXT NOT NULL REFERENCES alert (id) ON DELETE CASCADE,
  at_ms INTEGER NOT NULL,
  from_phase TEXT,
  to_phase TEXT NOT NULL,
  text TEXT NOT NULL
) STRICT;
CREATE INDEX alert_transition_alert ON alert_transition (alert_id, at_ms);

CREATE TABLE setting (
  key TEXT PRIMARY KEY,
  value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE setting_change (
  id INTEGER PRIMARY KEY,
  at_ms INTEGER NOT NULL,
  by TEXT NOT NULL,
  key TEXT NOT NULL,
  before TEXT,
  after TEXT
) STRICT;

-- Instants worth remembering over a restart: the last success of a job, the last tick.
CREATE TABLE mark (
  name TEXT PRIMARY KEY,
  at_ms INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE person (
  id TEXT PRIMARY KEY,
  name TEXT NOT NULL UNIQUE COLLATE NOCASE,
  role TEXT NOT NULL,
  password_hash TEXT NOT NULL,
  created_at INTEGER NOT NULL
) STRICT;

CREATE TABLE session (
  secret_hash TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  csrf TEXT NOT NULL,
  created_at INTEGER NOT NULL,
  expires_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE token (
  id TEXT PRIMARY KEY,
  secret_hash TEXT NOT NULL UNIQUE,
  person_id TEXT NOT NULL REFERENCES person (id) ON DELETE CASCADE,
  name TEXT NOT NULL,
  scope TEXT NOT NULL,
  created_at INTEGER NOT NULL,
  last_used_at INTEGER
) STRICT;

CREATE TABLE audit (
  id INTEGER PRIMARY KEY,
  at_ms INTEGER NOT NULL,
  who TEXT NOT NULL,
  what TEXT NOT NULL
) STRICT;

CREATE TABLE device (
  name TEXT PRIMARY KEY,
  password_hash TEXT NOT NULL,
  own_topics_only INTEGER NOT NULL,
  created_at INTEGER NOT NULL,
  last_seen_at INTEGER
) STRICT;

CREATE TABLE delivery (
  key TEXT PRIMARY KEY,
  recipient_id TEXT NOT NULL,
  kind TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'given-up', 'not-told')),
  created_at INTEGER NOT NULL,
  body TEXT NOT NULL
) STRICT;
CREATE INDEX delivery_waiting ON delivery (created_at) WHERE state = 'waiting';
CREATE INDEX delivery_made ON delivery (created_at);
CREATE INDEX delivery_digest ON delivery (recipient_id, created_at) WHERE kind = 'digest';
CREATE TABLE delivery_episode (
  episode_id TEXT NOT NULL,
  delivery_key TEXT NOT NULL REFERENCES delivery (key) ON DELETE CASCADE,
  PRIMARY KEY (episode_id, delivery_key)
) STRICT, WITHOUT ROWID;
CREATE INDEX delivery_episode_of ON delivery_episode (delivery_key);
`,
} as const;
