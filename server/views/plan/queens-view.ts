/** Deliveries against nucs: which nuc gets a queen first and why, and what those can do that have to wait. */
import { cageTimeDays, highEnd } from '../../biology/figures.ts';
import { placesOfActs } from '../../introduction/acts/answer.ts';
import { atHourOfDate, dayNumber, isoDate } from '../../introduction/calendar.ts';
import { barredFor, wantsQueen } from '../../introduction/acts/days/late-queen.ts';
import { splitInstant } from '../../introduction/acts/days/plan-windows.ts';
import { shareQueens, waitingNuc, type QueensShared } from '../../introduction/plan/share-queens.ts';
import { foldIntroduction } from '../../introduction/state.ts';
import type { NucForQueen, QueensForNucs } from '../../contract/plan.ts';
import type { Arrival } from '../../store/field-log/queens.ts';
import { groupBy } from '../../group-by.ts';
import { isNamedAfter } from './queen-names.ts';
import { deadInLog, taken } from './queens-taken.ts';
import { clockOf, projectionOf, visitHour, waitingToWire, type Begun } from './waiting-nuc.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { postHour } from '../../farm/setup-of.ts';

/** Later than this nobody makes good for queens that came dead. */
const tellWithinDays = 7;

interface WhatIf {
  readonly arrivalId: string;
  readonly expected: string;
}

/** As if the delivery came on another day: the same log, another expectation. */
function supposed(analysis: Begun, whatIf: WhatIf | undefined): Begun {
  if (!whatIf || analysis.introduction?.arrivalId !== whatIf.arrivalId) return analysis;
  const { state, site } = analysis;
  const expectedQueenMs = atHourOfDate(whatIf.expected, postHour, site.timeZone);
  const setup = { ...state.setup, expectedQueenMs };
  const then = foldIntroduction(setup, analysis.log, state.nowMs);
  return { ...analysis, state: then, plan: placesOfActs(then, { visitHour }) };
}

/** How many queens of a delivery the logs tell of: by a queen's name, else by the delivery that her nuc is planned for. */
function countFrom(
  arrival: Arrival,
  all: { readonly nucs: readonly Begun[]; readonly arrivals: readonly Arrival[] },
  queensIn: (nuc: Begun) => readonly string[],
): number {
  const cameWith = (queenId: string, nuc: Begun): string | undefined => {
    const planned = nuc.introduction?.arrivalId;
    const named = all.arrivals.filter((one) => isNamedAfter(one, queenId)).map(({ id }) => id);
    return planned !== undefined && named.includes(planned) ? planned : (named[0] ?? planned);
  };
  return all.nucs.flatMap((nuc) => queensIn(nuc).filter((id) => cameWith(id, nuc) === arrival.id)).length;
}

export function queensView(
  analyses: readonly NucAnalysis[],
  arrivals: readonly Arrival[],
  whatIf: WhatIf | undefined,
  nowMs: number,
): QueensForNucs[] {
  const begun = analyses.flatMap((one) =>
    one.state ? [supposed({ ...one, state: one.state }, whatIf)] : [],
  );
  const byArrival = groupBy(begun, ({ introduction }) => introduction?.arrivalId);
  const deliveries = arrivals
    .filter(({ state }) => state !== 'cancelled')
    .map((arrival) =>
      arrival.id === whatIf?.arrivalId ? { ...arrival, expected: whatIf.expected } : arrival,
    )
    .toSorted((a, b) => (dayOf(a) < dayOf(b) ? -1 : 1))
    .flatMap((arrival) => {
      const inLog = (queensIn: typeof taken): number =>
        countFrom(arrival, { nucs: begun, arrivals }, queensIn);
      const used = inLog(taken);
      const dead = Math.max(arrival.dead, inLog(deadInLog));
      return delivery({ arrival, used, dead, nucs: byArrival.get(arrival.id) ?? [] }, nowMs) ?? [];
    });
  const cancelled = arrivals.filter(({ state }) => state === 'cancelled').map(({ id }) => id);
  const without = [undefined, ...cancelled].flatMap((id) => byArrival.get(id) ?? []);
  const here = new Set(arrivals.filter(({ state }) => state === 'arrived').map(({ id }) => id));
  return withQueensOver([...deliveries, ...undelivered(without)], here, barredOf(begun));
}

/** Nucs into which no queen goes, as things stand: signs of brood disease, laying workers. None is offered. */
const barredOf = (nucs: readonly Begun[]): ReadonlySet<string> =>
  new Set(nucs.filter(({ state }) => barredFor(state) !== null).map(({ nuc }) => nuc.id));

/** Where nucs go without, deliveries that are here and have a queen over are named. */
function withQueensOver(
  all: readonly QueensForNucs[],
  arrived: ReadonlySet<string>,
  barred: ReadonlySet<string>,
): QueensForNucs[] {
  const wantsOne = ({ order, nucId }: NucForQueen): boolean => order === null && !barred.has(nucId);
  const here = all.filter(({ over, arrivalId }) => over > 0 && arrivalId !== null && arrived.has(arrivalId));
  return all.map((one) => {
    const offered = one.nucs.some(wantsOne) ? here.filter((other) => other !== one) : [];
    const named = offered.map(
      ({ name, over }) =>
        `${queensWords(over)} of “${name}” ${over === 1 ? 'has' : 'have'} no nuc: name that delivery for a nuc that goes without.`,
    );
    const spare = offered.flatMap(({ arrivalId, name, over }) =>
      arrivalId === null ? [] : [{ arrivalId, name, queens: over }],
    );
    const nucs = one.nucs.map((nuc) => (wantsOne(nuc) && spare.length > 0 ? { ...nuc, spare } : nuc));
    return { ...one, nucs, advice: [...one.advice, ...named] };
  });
}

const dayOf = ({ arrived, expected }: Arrival): string => arrived ?? expected;

const waitingByName = (nucs: readonly Begun[]): readonly Begun[] =>
  nucs
    .filter(({ state }) => wantsQueen(state))
    .toSorted((a, b) => a.nuc.name.localeCompare(b.nuc.name, 'en', { numeric: true }));

/** Null where nobody waits, and its queens are all in their nucs or can't live in their cages any more. */
function delivery(
  {
    arrival,
    used,
    dead,
    nucs,
  }: {
    readonly arrival: Arrival;
    readonly used: number;
    readonly dead: number;
    readonly nucs: readonly Begun[];
  },
  nowMs: number,
): QueensForNucs | null {
  const living = Math.max(0, arrival.queens - dead - used);
  const zone = nucs[0]?.site.timeZone ?? 'UTC';
  const dueMs = atHourOfDate(dayOf(arrival), postHour, zone);
  const comesMs = arrival.state === 'arrived' ? Math.max(dueMs, nowMs) : dueMs;
  const overdue = arrival.state !== 'arrived' && dayNumber(nowMs, comesMs, zone) < 0;
  const waiting = waitingByName(nucs);
  const daysSince = dayNumber(dueMs, nowMs, zone);
  if (waiting.length === 0 && (living === 0 || daysSince > highEnd(cageTimeDays))) return null;
  const queens = Array.from({ length: living }, (_, i) => ({
    queenId: `${arrival.id} ${String(i).padStart(4, '0')}`,
    fromMs: overdue ? nowMs : comesMs,
  }));
  const shared = shareQueens(
    waiting.flatMap((one) => waitingNuc(one.state, projectionOf(one), clockOf(one)) ?? []),
    queens,
  );
  const over = shared.queensOver.length;
  const barred = barredOf(waiting);
  return {
    arrivalId: arrival.id,
    name: arrival.name,
    comesOn: dayOf(arrival),
    living,
    over,
    advice: advice({
      over,
      dead: daysSince > tellWithinDays ? 0 : dead,
      overdue,
      without: shared.nucsWithout.filter(({ nucId }) => !barred.has(nucId)).length,
      arrived: arrival.state === 'arrived',
    }),
    nucs: inOrder(waiting, shared, overdue ? null : comesMs),
  };
}

interface Count {
  readonly over: number;
  readonly dead: number;
  readonly without: number;
  readonly overdue: boolean;
  readonly arrived: boolean;
}

const queensWords = (n: number): string => `${String(n)} ${n === 1 ? 'queen' : 'queens'}`;

function advice({ over, dead, without, overdue, arrived }: Count): string[] {
  return [
    ...(overdue
      ? ['The day on which they were expected is over: note that they have come, or the new day.']
      : []),
    ...(dead > 0
      ? [
          `${queensWords(dead)} came dead: tell the breeder the same day, with a picture of the cage as it came (common practice).`,
        ]
      : []),
    ...(without > 0
      ? [
          `${String(without)} ${without === 1 ? 'nuc goes' : 'nucs go'} without: name another delivery for ${without === 1 ? 'it, or see what it' : 'them, or see what they'} can do.`,
        ]
      : []),
    ...(over > 0 && arrived
      ? [
          `${queensWords(over)} without a nuc: never two in one nuc. A caged queen keeps about a week at room warmth with attendants, water and candy.`,
        ]
      : []),
  ];
}

/** Those that are served in their order, then those that go without, the most pressed first. */
function inOrder(waiting: readonly Begun[], shared: QueensShared, comesMs: number | null): NucForQueen[] {
  const byNuc = new Map(waiting.map((one) => [one.nuc.id, one]));
  const rows = [
    ...shared.pairs.map(({ nucId, why, hangFromMs }, i) => ({
      nucId,
      why,
      order: i + 1,
      hangFromMs,
      comesMs,
    })),
    ...shared.nucsWithout.map(({ nucId, why, tooLate }) => ({
      nucId,
      why,
      order: null,
      hangFromMs: null,
      comesMs: tooLate ? comesMs : null,
    })),
  ];
  return rows.flatMap(({ nucId, comesMs: comes, ...row }) => {
    const one = byNuc.get(nucId);
    return one ? [nucToWire(one, row, comes)] : [];
  });
}

/** As the nuc's own plan has it, and not before there is a queen for it. */
function hangMs(one: Begun, fromMs: number): number {
  const step = one.plan.find(({ kind }) => kind === 'hang-cage');
  return Math.max(fromMs, step && !step.done ? step.targetMs : fromMs);
}

function nucToWire(
  one: Begun,
  {
    why,
    order,
    hangFromMs,
  }: { readonly why: string; readonly order: number | null; readonly hangFromMs: number | null },
  comesMs: number | null,
): NucForQueen {
  const { nuc, site, state } = one;
  const splitMs = state.split?.atMs ?? splitInstant(state, clockOf(one));
  return {
    ...waitingToWire(one, comesMs),
    nucId: nuc.id,
    nucName: nuc.name,
    siteName: site.name,
    introductionId: state.setup.id,
    order,
    hangOn: hangFromMs === null || comesMs === null ? null : isoDate(hangMs(one, hangFromMs), site.timeZone),
    why,
    splitOn: splitMs === null ? null : isoDate(splitMs, site.timeZone),
    splitMade: state.split !== null || state.setup.startingPoint !== 'planned-split',
    splitFollows: state.setup.plannedSplitMs === undefined && state.split === null,
  };
}

/** Nucs that want a queen and are planned for no delivery. */
function undelivered(nucs: readonly Begun[]): QueensForNucs[] {
  const waiting = waitingByName(nucs);
  if (waiting.length === 0) return [];
  const ranked = shareQueens(
    waiting.flatMap((one) => waitingNuc(one.state, projectionOf(one), clockOf(one)) ?? []),
    [],
  );
  return [
    {
      arrivalId: null,
      name: 'No delivery',
      comesOn: null,
      living: 0,
      over: 0,
      advice: [],
      nucs: inOrder(waiting, ranked, null).map((one) => ({ ...one, why: 'it is planned for no delivery' })),
    },
  ];
}
