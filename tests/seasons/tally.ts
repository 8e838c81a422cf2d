/** Counts over many histories, by start. */
import type { FactPayload, StartingPoint } from '../../server/introduction/log/facts.ts';
import { byCalendar } from './by-calendar.ts';
import type { Hands } from './hands.ts';
import { obey, theTool, type Ask } from './obedient.ts';
import { scene, type Start } from './scene.ts';
import { verdictOn, verdictOnCalendar, type Verdict } from './verdict.ts';

export const starts: readonly StartingPoint[] = [
  'planned-split',
  'queenless-with-cells',
  'hopelessly-queenless',
  'own-laying-queen',
  'requeened-in-place',
];

interface Side {
  opened: number;
  rivalMet: number;
  visits: number;
  lost: Record<string, number>;
  couldBeKnown: number;
  laid: number;
  eggsOnDay: number;
  /** Days at the hive by what was written down that day. */
  days: Record<string, number>;
}

export interface Tally {
  readonly startingPoint: StartingPoint;
  count: number;
  deadEnds: number;
  against: number;
  clean: number;
  cleanByDay10: number;
  /** Where she was let out on a stated chance: how many, the sum of the chances, how many met a virgin or laying workers. */
  readonly chance: { count: number; stated: number; came: number };
  /** Visits of the obedient keeper more than by the calendar, and their squares. */
  moreVisits: number;
  moreVisitsSquared: number;
  readonly obedient: Side;
  readonly calendar: Side;
  /** Seeds to look at, a few for each kind of trouble. */
  readonly seeds: Record<string, string[]>;
}

const side = (): Side => ({
  opened: 0,
  rivalMet: 0,
  visits: 0,
  lost: {},
  couldBeKnown: 0,
  laid: 0,
  eggsOnDay: 0,
  days: {},
});

const empty = (startingPoint: StartingPoint): Tally => ({
  startingPoint,
  count: 0,
  deadEnds: 0,
  against: 0,
  clean: 0,
  cleanByDay10: 0,
  chance: { count: 0, stated: 0, came: 0 },
  moreVisits: 0,
  moreVisitsSquared: 0,
  obedient: side(),
  calendar: side(),
  seeds: {},
});

function add(to: Side, v: Verdict, { diary, days }: Hands): void {
  for (const day of days) {
    const kinds = new Set(diary.filter(({ t }) => Math.floor(t) === day).map(({ fact }) => wordOf(fact)));
    const what = [...kinds]
      .filter((word) => word !== '')
      .sort()
      .join(', ');
    to.days[what] = (to.days[what] ?? 0) + 1;
  }
  to.opened += Number(v.opened);
  to.rivalMet += Number(v.opened && v.rivalMet);
  to.visits += v.visits;
  if (v.lost !== null) to.lost[v.lost] = (to.lost[v.lost] ?? 0) + 1;
  to.couldBeKnown += Number(v.couldBeKnown !== null);
  if (v.eggsOnDay === null) return;
  to.laid++;
  to.eggsOnDay += v.eggsOnDay;
}

/** What is done at the hive; the rest is written at home, or follows from it. */
const wordOf = (fact: FactPayload): string => {
  switch (fact.kind) {
    case 'split-made':
      return 'split';
    case 'cells-cut':
    case 'inspection':
      return 'look for cells';
    case 'cage-hung':
      return 'hang';
    case 'cage-checked':
      return 'watch';
    case 'candy-opened':
    case 'cage-taken-out':
      return 'let out';
    case 'looked-for-queen':
      return 'look for her';
    case 'brood-frame-added':
      return fact.asTestFrame ? 'frame in' : 'brood';
    case 'brood-frame-taken':
      return 'frame out';
    default:
      return '';
  }
};

const seedsKept = 8;

function keep(t: Tally, what: string, name: string): void {
  const kept = (t.seeds[what] ??= []);
  if (kept.length < seedsKept) kept.push(name);
}

/** Both methods in turn: even numbers in the candy cage, odd ones under the mesh. */
export const startOf = (startingPoint: StartingPoint, n: number): Start => ({
  startingPoint,
  method: n % 2 === 0 ? 'candy-cage' : 'push-in-cage',
});

export function tally(startingPoint: StartingPoint, count: number, seed: number, ask: Ask = theTool): Tally {
  const t = empty(startingPoint);
  for (let n = seed; n < seed + count; n++) {
    const start = startOf(startingPoint, n);
    const played = obey(scene(n, start), ask);
    const verdict = verdictOn(played);
    t.count++;
    t.deadEnds += Number(verdict.deadEnd);
    t.against += Number(verdict.against > 0);
    if (verdict.cleanByDay10 !== null) {
      t.clean++;
      t.cleanByDay10 += Number(verdict.cleanByDay10);
    }
    if (verdict.chance) {
      t.chance.count++;
      t.chance.stated += verdict.chance.stated;
      t.chance.came += Number(verdict.chance.came);
    }
    const calendar = byCalendar(scene(n, start));
    const byDate = verdictOnCalendar(calendar);
    const more = verdict.visits - byDate.visits;
    t.moreVisits += more;
    t.moreVisitsSquared += more ** 2;
    add(t.obedient, verdict, played.hands);
    add(t.calendar, byDate, calendar.hands);
    const name = String(n);
    if (verdict.deadEnd) keep(t, 'dead end', name);
    if (verdict.against > 0) keep(t, 'against a gate', name);
    if (verdict.cleanByDay10 === false) keep(t, 'clean and late', name);
    if (verdict.rivalMet) keep(t, 'rival met', name);
    if (verdict.couldBeKnown !== null) keep(t, `could be known: ${verdict.couldBeKnown}`, name);
  }
  return t;
}

const sums = (a: Record<string, number>, b: Record<string, number>): Record<string, number> =>
  Object.fromEntries(
    [...new Set([...Object.keys(a), ...Object.keys(b)])].map((key) => [key, (a[key] ?? 0) + (b[key] ?? 0)]),
  );

const mergeSides = (a: Side, b: Side): Side => ({
  opened: a.opened + b.opened,
  rivalMet: a.rivalMet + b.rivalMet,
  visits: a.visits + b.visits,
  lost: sums(a.lost, b.lost),
  days: sums(a.days, b.days),
  couldBeKnown: a.couldBeKnown + b.couldBeKnown,
  laid: a.laid + b.laid,
  eggsOnDay: a.eggsOnDay + b.eggsOnDay,
});

export const merge = (a: Tally, b: Tally): Tally => ({
  startingPoint: a.startingPoint,
  count: a.count + b.count,
  deadEnds: a.deadEnds + b.deadEnds,
  against: a.against + b.against,
  clean: a.clean + b.clean,
  cleanByDay10: a.cleanByDay10 + b.cleanByDay10,
  chance: {
    count: a.chance.count + b.chance.count,
    stated: a.chance.stated + b.chance.stated,
    came: a.chance.came + b.chance.came,
  },
  moreVisits: a.moreVisits + b.moreVisits,
  moreVisitsSquared: a.moreVisitsSquared + b.moreVisitsSquared,
  obedient: mergeSides(a.obedient, b.obedient),
  calendar: mergeSides(a.calendar, b.calendar),
  seeds: Object.fromEntries(
    [...new Set([...Object.keys(a.seeds), ...Object.keys(b.seeds)])].map((what) => [
      what,
      [...(a.seeds[what] ?? []), ...(b.seeds[what] ?? [])].slice(0, seedsKept),
    ]),
  ),
});

export interface Missed {
  readonly goal: string;
  readonly reached: string;
}

const percent = (part: number, of: number): string =>
  of === 0 ? '–' : `${((100 * part) / of).toFixed(1)} %`;

/** Goals that a tally misses. */
export function missedGoals(t: Tally): readonly Missed[] {
  const { obedient: o } = t;
  const more = t.moreVisits / t.count;
  const goals: readonly (readonly [boolean, string, string])[] = [
    [t.deadEnds === 0, '0 dead ends', String(t.deadEnds)],
    [t.against === 0, '0 acts ordered against a gate', String(t.against)],
    [o.rivalMet <= 0.03 * o.opened, 'rival met after release in at most 3 %', percent(o.rivalMet, o.opened)],
    [
      t.cleanByDay10 >= 0.8 * t.clean,
      'at least 80 % of the clean ones opened by day 10',
      percent(t.cleanByDay10, t.clean),
    ],
    [more <= 0.6, 'at most 0.6 visits more than the calendar', more.toFixed(2)],
    [o.couldBeKnown === 0, '0 queens lost to a cause that the log could have shown', String(o.couldBeKnown)],
  ];
  return goals.filter(([met]) => !met).map(([, goal, reached]) => ({ goal, reached }));
}
