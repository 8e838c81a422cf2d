/** Whether what the store keeps of an alert has the form that the rules work with; the store knows it as JSON. */
import * as z from 'zod';
import type { AlertState, Episode } from '../rules/engine/alert-state.ts';
import type { StoredAlert } from '../store/alerts.ts';
import type { Store } from '../store/store.ts';

export interface EndedAlert {
  readonly ruleId: string;
  readonly subject: AlertState['subject'];
  readonly episode: Episode;
  readonly endedAtMs: number;
}

const subject = z.looseObject({ kind: z.string() });
const episode = z.looseObject({
  id: z.string(),
  raisedAtMs: z.number(),
});
/** Up to version 0.1 the unobserved time was kept as `awayMs`. */
function withUnobserved(at: Record<string, unknown>): Record<string, unknown> {
  const { awayMs, ...rest } = at;
  return awayMs === undefined ? at : { ...rest, unobservedMs: awayMs };
}
const live = z
  .discriminatedUnion('phase', [
    z.looseObject({ phase: z.literal('quiet') }),
    z.looseObject({ phase: z.literal('holding'), sinceMs: z.number() }),
    z.looseObject({ phase: z.enum(['raised', 'clearing', 'cleared', 'closed']), episode }),
  ])
  .transform(withUnobserved);
const current = z.looseObject({
  key: z.string(),
  ruleId: z.string(),
  subject,
  at: z.union([live, z.looseObject({ phase: z.literal('no-data'), paused: live })]),
});
const over = z.looseObject({ ruleId: z.string(), subject, episode, endedAtMs: z.number() });

type Unreadable = Store['unreadable'];

/** The states of alerts that can be read; the others are noted and left out. */
export const currentAlerts = (rows: readonly StoredAlert[], unreadable: Unreadable): AlertState[] =>
  readable(rows, unreadable, current) as AlertState[];

export const endedAlerts = (rows: readonly StoredAlert[], unreadable: Unreadable): EndedAlert[] =>
  readable(rows, unreadable, over) as EndedAlert[];

function readable(rows: readonly StoredAlert[], unreadable: Unreadable, form: z.ZodType): unknown[] {
  return rows.flatMap(({ id, state }) => {
    const read = form.safeParse(state);
    if (read.success) return [read.data];
    unreadable.note('alert', id);
    return [];
  });
}
