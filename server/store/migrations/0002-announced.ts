/** Schema 2. */
export const announced = {
  version: 2,
  note: 'What sensors announced about themselves is kept over a restart.',
  sql: `
CREATE TABLE announcement (
  kind TEXT NOT NULL,
  key TEXT NOT NULL,
  value TEXT NOT NULL,
  PRIMARY KEY (kind, key)
) STRICT, WITHOUT ROWID;
`,
} as const;
