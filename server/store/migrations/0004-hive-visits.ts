/** Schema 4. */
export const hiveVisits = {
  version: 4,
  note: 'Visits can be logged on any hive, also on one without an introduction.',
  sql: `
CREATE TABLE hive_visit (
  id TEXT PRIMARY KEY,
  hive_id TEXT NOT NULL REFERENCES hive (id),
  happened_at INTEGER NOT NULL,
  written_at INTEGER NOT NULL,
  visit TEXT NOT NULL,            -- JSON: what was done, by whom, a note
  withdrawn_at INTEGER            -- null where it stands
) STRICT, WITHOUT ROWID;
CREATE INDEX hive_visit_by_hive ON hive_visit (hive_id, happened_at);
`,
} as const;
