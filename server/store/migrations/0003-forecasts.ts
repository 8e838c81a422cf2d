/** Schema 3. */
export const forecasts = {
  version: 3,
  note: 'Forecasts are kept: over a restart, and for a replay of what was told by them.',
  sql: `
CREATE TABLE forecast (
  kind TEXT NOT NULL CHECK (kind IN ('address', 'topic')),
  site_id TEXT NOT NULL,          -- '' where it is for every site
  known_ms INTEGER NOT NULL,      -- when it came here
  said_ms INTEGER NOT NULL,       -- when it was made
  source TEXT NOT NULL,
  hours TEXT NOT NULL,            -- JSON: minutes after known_ms and °C by turns; [] where it was withdrawn
  PRIMARY KEY (kind, site_id, known_ms)
) STRICT, WITHOUT ROWID;
`,
} as const;
