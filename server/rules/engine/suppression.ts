/**
 * One cause, one alert: which finding explains which, as data with the reason that is shown.
 *
 * A finding that is explained is not raised, and what was raised before stays. `reach` says how far a
 * cause explains: its own channel, its own nuc (a channel counts for the nuc it is assigned to), its site, or everything.
 */
import type { AlertState } from './alert-state.ts';
import { livePhase } from './alert-state.ts';
import type { Place, Subject } from './types.ts';

export interface Explanation {
  readonly cause: string;
  readonly explains: readonly string[];
  readonly reach: 'channel' | 'nuc' | 'site' | 'everything';
  /** Only where the cause is a sensor at this place. */
  readonly place?: Place;
  /** Only when the cause was raised, not while it is merely true. */
  readonly onceTold?: true;
  /** How long after its end the cause still explains. */
  readonly lastsMin: number;
  readonly reason: string;
}

/** Not rules, but facts of the input that explain as rules do. */
export const visitLogged = 'visit-logged';

const brood = ['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'brood-too-hot'];
const cage = ['cage-too-cold', 'cage-too-hot'];
const byWeight = ['box-lifted', 'left-in-a-mass', 'being-robbed', 'stores-low', 'disturbed-in-hands-off'];
const silence = ['sensor-silent', 'everything-silent'];

/** What a sensor that is not to be believed would otherwise tell, place by place. */
const untold = (cause: string, what: string): readonly Explanation[] => {
  const one = { cause, reach: 'nuc', lastsMin: 60 } as const;
  return [
    {
      ...one,
      place: 'brood',
      explains: [...brood, 'colony-failing', 'unlike-its-batch'],
      reason: `the brood probe ${what}`,
    },
    { ...one, place: 'cage', explains: cage, reason: `the probe at the cage ${what}` },
    {
      ...one,
      place: 'scale',
      explains: [...byWeight, 'scale-drifting', 'box-toppled', 'box-gone', 'unlike-its-batch'],
      reason: `the scale ${what}`,
    },
  ];
};

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
    explains: ['sensor-stuck'],
    reach: 'channel',
    lastsMin: 60,
    reason: 'this sensor sends values that can’t be, and it may well be the same one each time',
  },
  {
    // Whichever of the two was told first stands for both: what never moves is flagged after two days as what can't be.
    cause: 'sensor-stuck',
    explains: ['sensor-implausible'],
    reach: 'channel',
    onceTold: true,
    lastsMin: 1440,
    reason: 'it was told that this sensor is stuck, and what never moves can’t be true',
  },
  ...untold('sensor-implausible', 'sends values that can’t be, so what it says is not believed'),
  ...untold('sensor-stuck', 'is stuck at one value, so what it says is not believed'),
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
      ...brood,
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
    explains: [...brood, ...cage, ...byWeight, 'box-toppled', 'too-weak-to-keep-warm', 'colony-failing'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box is no longer on its scale',
  },
  {
    cause: 'box-gone',
    explains: ['sensor-silent'],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box is gone from its scale, and its probes went with it',
  },
  {
    cause: 'box-toppled',
    explains: [...brood, ...cage, ...byWeight],
    reach: 'nuc',
    lastsMin: 60,
    reason: 'the box seems to have been knocked over',
  },
  {
    cause: 'left-in-a-mass',
    explains: [
      ...brood,
      'too-weak-to-keep-warm',
      'being-robbed',
      'not-steadying',
      'colony-failing',
      'unlike-its-batch',
    ],
    reach: 'nuc',
    lastsMin: 10_080,
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
    explains: ['too-weak-to-keep-warm'],
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
  // Whichever of the two was told first stands for both.
  {
    cause: 'chilling-ahead',
    explains: ['chilling-tonight'],
    reach: 'nuc',
    onceTold: true,
    lastsMin: 120,
    reason: 'it was told that the brood is about to chill',
  },
  {
    cause: 'chilling-tonight',
    explains: ['chilling-ahead'],
    reach: 'nuc',
    onceTold: true,
    lastsMin: 120,
    reason: 'it was told before the night; when it comes to it, chilling itself is told',
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
    explains: [...brood, 'not-steadying', 'unlike-its-batch', 'too-weak-to-keep-warm'],
    reach: 'nuc',
    lastsMin: 0,
    reason: 'the colony as a whole is failing',
  },
];

/** The rules whose findings one of these causes may explain. */
export const explainedBy = (causes: ReadonlySet<string>): ReadonlySet<string> =>
  new Set(explanations.filter(({ cause }) => causes.has(cause)).flatMap(({ explains }) => explains));

/** Something that stands, or stood until lately, and may explain others. */
export interface ActiveCause {
  readonly cause: string;
  readonly subject: Subject;
  readonly endedAtMs: number | null;
  /** Told, or a plain fact: it counts. Else it counts only as long as nothing explains it in its turn. */
  readonly settled: boolean;
}

export interface Explained {
  readonly by: ActiveCause;
  readonly reason: string;
  /** Up to when the cause explains, which is over; null while it stands. */
  readonly untilMs: number | null;
}

/** Does this alert count as a cause at all, and since when is it over? */
export function causeOf(alert: AlertState): ActiveCause | null {
  const live = livePhase(alert);
  const cause = { cause: alert.ruleId, subject: alert.subject, settled: true };
  if (live.phase === 'raised' || live.phase === 'clearing') return { ...cause, endedAtMs: null };
  if (live.phase === 'closed') return { ...cause, endedAtMs: live.closedAtMs };
  if (live.phase === 'cleared') return { ...cause, endedAtMs: live.clearedAtMs };
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
  // Without the rows for what was told the table has no circle (a test holds it to that), so this ends.
  const ask: Explainer = (ruleId, subject) => {
    for (const row of rowsFor.get(ruleId) ?? []) {
      const place = placeKey(row.reach, subject);
      const candidates = place === null ? undefined : found.get(row)?.get(place);
      const by = candidates?.find((one) => one.settled || ask(one.cause, one.subject) === null);
      if (!by) continue;
      const untilMs = by.endedAtMs === null ? null : by.endedAtMs + row.lastsMin * 60_000;
      return { by, reason: row.reason, untilMs };
    }
    return null;
  };
  return ask;
}

function indexCauses(causes: readonly ActiveCause[], nowMs: number, table: readonly Explanation[]) {
  const found = new Map<Explanation, Map<string, ActiveCause[]>>();
  for (const row of table) {
    for (const active of causes) {
      if (active.cause !== row.cause || (row.onceTold && !active.settled)) continue;
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
