/** Schema 5. */
export const quarantineRetained = {
  version: 5,
  note: 'Of a message in the quarantine it is known whether the broker had kept it: then it is no new reading.',
  sql: 'ALTER TABLE quarantine ADD COLUMN retained INTEGER NOT NULL DEFAULT 0;',
} as const;
