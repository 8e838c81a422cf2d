/**
 * One cause, one alert: which finding explains which, as data with the reason that is shown.
 *
 * A finding that is explained is not raised, and what was raised before stays. `reach` says how far a
 * cause explains: its own nuc (a channel counts for the nuc it is assigned to), its site, or everything.
 */
import type { AlertState } from './alert-state.ts';
import { livePhase } from './alert-state.ts';
import type { Subject } from './types.ts';

export interface Explanation {
  readonly cause: string;
  readonly explains: readonly string[];
  readonly reach: 'nuc' | 'site' | 'everything';
  /** How long after its end the cause still explains. */
  readonly lastsMin: number;
  readonly reason: string;
}

/** Not rules, but facts of the input that explain as rules do. */
export const visitLogged = 'visit-logged';

const chilling = ['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'brood-too-hot'];
const cage = ['cage-too-cold', 'cage-too-hot'];
const byWeight = ['box-lifted', 'left-in-a-mass', 'being-robbed', 'stores-low', 'disturbed-in-hands-off'];
const silence = ['sensor-silent', 'everything-silent'];

export const explanations: readonly Explanation[] = [
  {
    cause: 'broker-away',
    explains: silence,
    reach: 'everything',
    lastsMin: 30,
    reason: 'the connection to the broker was down, so no sensor could be heard',
  },
  {
    cause: 'server-was-down',
    explains: silence,
    reach: 'everything',
    lastsMin: 30,
    reason: 'this server was down and the sensors have not all reported again',
  },
  {
    cause: 'everything-silent',
    explains: ['sensor-silent'],
    reach: 'site',
    lastsMin: 60,
    reason:
      'everything at the site went silent together: look at the gateway or its power, not at one sensor',
  },
  {
    cause: 'sensor-implausible',
    explains: [...chilling, ...cage, ...byWeight, 'sensor-stuck', 'colony-failing', 'unlike-its-batch'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'a sensor of this nuc sends values that can’t be, so what it says is not believed',
  },
  {
    cause: 'scale-drifting',
    explains: ['foragers-gone', 'stores-low', 'being-robbed', 'unlike-its-batch'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the scale drifts, so slow changes of weight are not believed',
  },
  {
    cause: visitLogged,
    explains: [
      ...chilling,
      ...cage,
      'box-lifted',
      'box-toppled',
      'box-gone',
      'left-in-a-mass',
      'disturbed-in-hands-off',
    ],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'a visit was logged within the hour',
  },
  {
    cause: 'box-gone',
    explains: [...chilling, ...cage, ...byWeight, 'box-toppled', 'too-weak-to-keep-warm', 'colony-failing'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box is no longer on its scale',
  },
  {
    cause: 'box-toppled',
    explains: [...chilling, ...cage, ...byWeight],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box seems to have been knocked over',
  },
  {
    cause: 'left-in-a-mass',
    explains: [
      ...chilling,
      'too-weak-to-keep-warm',
      'being-robbed',
      'not-steadying',
      'colony-failing',
      'unlike-its-batch',
    ],
    reach: 'nuc',
    lastsMin: 1440,
    reason: 'most of the bees have left',
  },
  {
    cause: 'being-robbed',
    explains: ['stores-low', 'disturbed-in-hands-off'],
    reach: 'nuc',
    lastsMin: 360,
    reason: 'the nuc is being robbed',
  },
  {
    cause: 'box-lifted',
    explains: ['disturbed-in-hands-off'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box was lifted',
  },
  {
    cause: 'brood-chilling',
    explains: ['chilling-ahead', 'chilling-tonight', 'too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 120,
    reason: 'the brood is chilling already',
  },
  {
    cause: 'cage-too-cold',
    explains: ['brood-chilling', 'chilling-ahead', 'chilling-tonight'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the cage is cold already, and the queen comes first',
  },
  {
    cause: 'chilling-ahead',
    explains: ['chilling-tonight', 'too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 120,
    reason: 'the brood is about to chill within hours',
  },
  {
    cause: 'chilling-tonight',
    explains: ['too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 720,
    reason: 'it is told as tonight’s chilling',
  },
  {
    cause: 'visit-overdue',
    explains: ['visit-due'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the same visit is already overdue',
  },
  {
    cause: 'colony-failing',
    explains: [...chilling, 'not-steadying', 'unlike-its-batch', 'too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the colony as a whole is failing',
  },
];

/** Something that stands, or stood until lately, and explains others. */
export interface ActiveCause {
  readonly cause: string;
  readonly subject: Subject;
  readonly endedAtMs: number | null;
}

export interface Explained {
  readonly by: ActiveCause;
  readonly reason: string;
}

/** Does this alert count as a cause at all, and since when is it over? */
export function causeOf(alert: AlertState): ActiveCause | null {
  const live = livePhase(alert);
  const { ruleId: cause, subject } = alert;
  if (live.phase === 'raised' || live.phase === 'clearing') return { cause, subject, endedAtMs: null };
  if (live.phase === 'closed') return { cause, subject, endedAtMs: live.closedAtMs };
  if (live.phase === 'cleared') return { cause, subject, endedAtMs: live.clearedAtMs };
  return null;
}

const nucOf = (subject: Subject): string | undefined => (subject.kind === 'nuc' ? subject.id : subject.nucId);
const siteOf = (subject: Subject): string | undefined =>
  subject.kind === 'site' ? subject.id : subject.siteId;

const placeKey = (reach: Explanation['reach'], subject: Subject): string | null => {
  if (reach === 'everything') return '*';
  const id = reach === 'nuc' ? nucOf(subject) : siteOf(subject);
  return id === undefined ? null : `${reach}/${id}`;
};

/** What explains a finding of this rule on this subject, if anything does. */
export type Explainer = (ruleId: string, subject: Subject) => Explained | null;

/** Indexes the causes of one tick once, so that asking costs a look-up a table row. */
export function explainer(causes: readonly ActiveCause[], nowMs: number, table = explanations): Explainer {
  const found = new Map<string, ActiveCause>();
  for (const row of table) {
    for (const active of causes) {
      if (active.cause !== row.cause) continue;
      if (active.endedAtMs !== null && nowMs - active.endedAtMs > row.lastsMin * 60_000) continue;
      const place = placeKey(row.reach, active.subject);
      if (place !== null) found.set(`${row.cause}@${place}`, active);
    }
  }
  if (found.size === 0) return () => null;
  const rowsFor = new Map<string, Explanation[]>();
  for (const row of table) {
    for (const ruleId of row.explains) rowsFor.set(ruleId, [...(rowsFor.get(ruleId) ?? []), row]);
  }
  return (ruleId, subject) => {
    for (const row of rowsFor.get(ruleId) ?? []) {
      const place = placeKey(row.reach, subject);
      const by = place === null ? undefined : found.get(`${row.cause}@${place}`);
      if (by) return { by, reason: row.reason };
    }
    return null;
  };
}
