/** Explained findings are not raised: finds the cause of each by the catalogue's table of explanations. */
import { explanations, type Explanation } from '../catalogue/explanations.ts';
import type { AlertState } from './alert-state.ts';
import { livePhase } from './alert-state.ts';
import type { Subject } from './types.ts';

/** Something that stands, or stood until lately, and may explain others. */
export interface ActiveCause {
  readonly cause: string;
  readonly subject: Subject;
  readonly endedAtMs: number | null;
  /** Raised, or a plain fact: it counts. Else it counts only as long as nothing explains it in its turn. */
  readonly settled: boolean;
}

export interface Explained {
  readonly by: ActiveCause;
  readonly reason: string;
}

/** Does this alert count as a cause at all, and since when is it over? */
export function causeOf(alert: AlertState): ActiveCause | null {
  const live = livePhase(alert);
  const cause = { cause: alert.ruleId, subject: alert.subject, settled: true };
  if (live.phase === 'raised' || live.phase === 'clearing') return { endedAtMs: null, ...cause };
  if (live.phase === 'closed') return { endedAtMs: live.closedAtMs, ...cause };
  if (live.phase === 'cleared') return { endedAtMs: live.clearedAtMs, ...cause };
  return null;
}

/** The nuc that a finding is about, if it is about one. */
export const nucOf = (subject: Subject): string | undefined =>
  subject.kind === 'nuc' ? subject.id : subject.nucId;
/** The nucs whose keeper has to know of a finding: those that a shared device serves, too. */
export const nucsOf = (subject: Subject): readonly string[] => {
  const one = nucOf(subject);
  return one === undefined ? (subject.nucIds ?? []) : [one];
};
const siteOf = (subject: Subject): string | undefined =>
  subject.kind === 'site' ? subject.id : subject.siteId;

const placeKey = (reach: Explanation['reach'], subject: Subject): string | null => {
  if (reach === 'everything') return '*';
  if (reach === 'channel') return subject.kind === 'channel' ? subject.id : null;
  const id = reach === 'nuc' ? nucOf(subject) : siteOf(subject);
  return id ?? null;
};

/** What explains a finding of this rule on this subject, if anything does. */
export type Explainer = (ruleId: string, subject: Subject) => Explained | null;

/** Indexes the causes of one tick once, so that asking costs a look-up a table row. */
export function explainer(causes: readonly ActiveCause[], nowMs: number, table = explanations): Explainer {
  const found = indexCauses(causes, nowMs, table);
  const rowsFor = new Map<string, Explanation[]>();
  for (const row of found.keys()) {
    for (const ruleId of row.explains) rowsFor.set(ruleId, [...(rowsFor.get(ruleId) ?? []), row]);
  }
  // Without the rows for what was raised the table has no circle (a test holds it to that), so this ends.
  const ask: Explainer = (ruleId, subject) => {
    for (const row of rowsFor.get(ruleId) ?? []) {
      const place = placeKey(row.reach, subject);
      const candidates = place === null ? undefined : found.get(row)?.get(place);
      const by = candidates?.find((one) => one.settled || ask(one.cause, one.subject) === null);
      if (by) return { by, reason: row.reason };
    }
    return null;
  };
  return ask;
}

function indexCauses(causes: readonly ActiveCause[], nowMs: number, table: readonly Explanation[]) {
  const found = new Map<Explanation, Map<string, ActiveCause[]>>();
  for (const row of table) {
    for (const active of causes) {
      if (active.cause !== row.cause || (row.onceRaised && !active.settled)) continue;
      if (row.place !== undefined && row.place !== active.subject.place) continue;
      if (active.endedAtMs !== null && nowMs - active.endedAtMs > row.lastsMin * 60_000) continue;
      const place = placeKey(row.reach, active.subject);
      if (place === null) continue;
      const places = found.get(row) ?? new Map<string, ActiveCause[]>();
      found.set(row, places.set(place, [...(places.get(place) ?? []), active]));
    }
  }
  return found;
}
