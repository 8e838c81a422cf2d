/** The day rail of one nuc: its days since the split with everything that lies on them. */
import { handsOffDays } from '../../biology/practice-figures.ts';
import { dayPosition, startOfDay, startOfDayAfter } from '../../introduction/calendar.ts';
import type { PlanStep } from '../../introduction/acts/plan-step.ts';
import { mayBeOut } from '../../introduction/queen/queen-state.ts';
import type { FactKind } from '../../introduction/log/facts.ts';
import type { IntroductionState } from '../../introduction/state.ts';
import type { Rail } from '../../contract/nucs.ts';
import { expectedBand } from '../../signals/brood/brood-temperature.ts';
import { broodRegimeOf, type NucAnalysis } from '../../watch/nuc-analysis.ts';
import { stageNow } from '../../watch/stage-facts.ts';
import { iso } from '../../farm/wire.ts';
import { rounded } from '../rounded.ts';
import { stepLabel, stepState } from '../plan/plan-steps.ts';
import { dayMs } from '../../durations.ts';

/** A rail shows four weeks: to the last worker of the old queen and the first sealed brood of the new one. */
const usualLastDay = 28;
/** Setting: no rail is longer, however long an introduction is left open. */
const longestLastDay = 90;

/** What stands on the rail from alerts; days are filled in here. */
export interface RailAlert {
  readonly id: string;
  readonly fromMs: number;
  readonly toMs: number | null;
  readonly urgency: 'now' | 'today' | 'next-visit';
  readonly text: string;
}

type DayOf = (atMs: number) => number;

export function railOf(
  analysis: NucAnalysis,
  hourly: readonly HourOfBrood[],
  alerts: readonly RailAlert[],
  nowMs: number,
): Rail | null {
  const { state, site, signals } = analysis;
  const plan = analysis.plan.filter(({ offered }) => !offered);
  const day0 = state?.day0Ms ?? plan.find((step) => step.kind === 'split')?.targetMs ?? null;
  if (!state || day0 === null) return null;
  const { timeZone } = site;
  const day: DayOf = (atMs) => rounded(dayPosition(day0, atMs, timeZone), 3);
  const visits = visitsOf(state, plan, day, nowMs);
  const wanted = Math.max(
    usualLastDay,
    Math.ceil(day(nowMs)) + 3,
    ...visits.map((visit) => Math.ceil(visit.day)),
  );
  const lastDay = Math.min(wanted, longestLastDay);
  const onIt = (one: { readonly day: number }): boolean => one.day <= lastDay;
  return {
    day0: iso(startOfDay(day0, timeZone)),
    timeZone,
    today: day(nowMs),
    lastDay,
    windows: windowsOf(state, day, lastDay),
    bars: barsOf(state, plan, day, nowMs),
    visits: visits.filter(onIt),
    nights: (signals?.nightWeights ?? [])
      .filter((night) => night.toMs >= day0 - dayMs)
      .map((night) => ({ day: day(night.toMs), kg: rounded(night.levelG / 1000, 3) }))
      .filter(onIt),
    brood: hourly
      .filter(({ atMs }) => atMs >= day0 - dayMs)
      .map(({ atMs, low, mean, high }) => ({ day: day(atMs), low, mean, high }))
      .filter(onIt),
    band: bandOf(state, day0, lastDay, day),
    alerts: alerts
      .map(({ id, fromMs, toMs, urgency, text }) => ({
        id,
        day: day(fromMs),
        toDay: day(toMs ?? nowMs),
        urgency,
        text,
      }))
      .filter(onIt),
    inWords: inWords(analysis, nowMs),
  };
}

export interface HourOfBrood {
  readonly atMs: number;
  readonly low: number;
  readonly mean: number;
  readonly high: number;
}

/** Nothing is drawn of the time after it. */
const endOf = ({ outcome }: IntroductionState): number => outcome?.atMs ?? Infinity;

function windowsOf(state: IntroductionState, day: DayOf, lastDay: number): Rail['windows'] {
  const { windows, queen, looks } = state;
  const endMs = endOf(state);
  const found: Rail['windows'] = [];
  const add = (
    kind: Rail['windows'][number]['kind'],
    fromMs: number | null | undefined,
    untilMs: number | null | undefined,
    text: string,
  ): void => {
    if (fromMs == null || untilMs == null) return;
    const toMs = Math.min(untilMs, endMs);
    if (toMs <= fromMs || day(fromMs) >= lastDay) return;
    const toDay = toMs === Infinity ? lastDay : Math.min(day(toMs), lastDay);
    found.push({ kind, fromDay: day(fromMs), toDay, text });
  };
  const { rearableLarvae, virginPossible, openBroodUntilMs, sealedBroodUntilMs, layingWorkersWatchFromMs } =
    windows;
  add(
    'rearable-larvae',
    rearableLarvae?.fromMs,
    rearableLarvae?.untilMs,
    'larvae a queen could still be raised from',
  );
  const cut = looks.firstLate !== null;
  add(
    'virgin-possible',
    virginPossible?.fromMs,
    virginPossible?.untilMs,
    cut ? 'a missed cell could hatch' : 'a virgin could be out',
  );
  const from = rearableLarvae?.fromMs;
  add('open-brood', from, openBroodUntilMs, 'open brood of the old queen');
  add('sealed-brood', openBroodUntilMs, sealedBroodUntilMs, 'sealed brood of the old queen still to emerge');
  const lays = queen.where === 'seen-loose' || (mayBeOut(queen) && queen.firstEggsAtMs !== null);
  if (!lays) add('laying-workers', layingWorkersWatchFromMs, Infinity, 'workers may begin to lay');
  return found;
}

type Bar = Rail['bars'][number];

function barsOf(
  state: IntroductionState,
  plan: readonly PlanStep[],
  day: DayOf,
  nowMs: number,
): Rail['bars'] {
  const planned = (kind: PlanStep['kind']): number | undefined =>
    plan.find((step) => step.kind === kind && !step.done)?.targetMs;
  const hungMs = state.queen.cageHungAtMs ?? planned('hang-cage');
  const openedMs = state.queen.releasedAtMs ?? planned('open-candy');
  const untilMs = Math.min(nowMs, endOf(state));
  return [
    ...(hungMs === undefined ? [] : cagedBars(state, hungMs, openedMs, day, untilMs)),
    ...(openedMs === undefined ? [] : handsOffBar(state, openedMs, day)),
    ...layingBar(state, day, untilMs),
  ];
}

/** In her cage, as it was until now or the end, and as it is planned. */
function cagedBars(
  { queen }: IntroductionState,
  hungMs: number,
  openedMs: number | undefined,
  day: DayOf,
  lastMs: number,
): Bar[] {
  if (queen.where === 'dead') return [];
  const caged = { kind: 'caged', text: 'queen in her cage' } as const;
  if (queen.cageHungAtMs === null)
    return [{ ...caged, fromDay: day(hungMs), toDay: day(openedMs ?? hungMs), planned: true }];
  if (queen.releasedAtMs !== null)
    return [{ ...caged, fromDay: day(hungMs), toDay: day(queen.releasedAtMs), planned: false }];
  const untilMs = Math.min(lastMs, openedMs ?? lastMs);
  const soFar: Bar = { ...caged, fromDay: day(hungMs), toDay: day(untilMs), planned: false };
  if (openedMs === undefined || openedMs <= untilMs) return [soFar];
  const text = 'queen in her cage, as planned';
  return [soFar, { kind: 'caged', fromDay: day(untilMs), toDay: day(openedMs), planned: true, text }];
}

function handsOffBar(state: IntroductionState, openedMs: number, day: DayOf): Bar[] {
  const { queen, setup } = state;
  const untilMs = Math.min(
    startOfDayAfter(openedMs, handsOffDays.value, setup.timeZone),
    queen.deadAtMs ?? Infinity,
    endOf(state),
  );
  if (untilMs <= openedMs) return [];
  const planned = queen.releasedAtMs === null;
  return [{ kind: 'hands-off', fromDay: day(openedMs), toDay: day(untilMs), planned, text: 'hands off' }];
}

function layingBar({ queen }: IntroductionState, day: DayOf, lastMs: number): Bar[] {
  if (queen.firstEggsAtMs === null) return [];
  const fromDay = day(queen.firstEggsAtMs);
  const toDay = Math.max(day(Math.min(lastMs, queen.deadAtMs ?? Infinity)), fromDay);
  return [{ kind: 'laying', fromDay, toDay, planned: false, text: 'her eggs seen' }];
}

function visitsOf(
  state: IntroductionState,
  plan: readonly PlanStep[],
  day: DayOf,
  nowMs: number,
): Rail['visits'] {
  const doneIds = new Set<string>();
  // One entry may settle two steps: a release that nobody logged is that of the hanging.
  const idOf = ({ id, done }: PlanStep): string => {
    if (done === undefined || doneIds.has(done.factId)) return id;
    doneIds.add(done.factId);
    return done.factId;
  };
  const steps = plan.map((step) => {
    const at = step.done?.atMs ?? step.targetMs;
    return {
      day: day(at),
      at: iso(at),
      kind: step.kind,
      label: stepLabel(step, state.setup.method === 'push-in-cage'),
      state: stepState(step, nowMs),
      id: idOf(step),
    };
  });
  const others = state.facts.flatMap(({ id, atMs, fact: { kind } }) => {
    const label = otherVisit[kind];
    if (label === undefined || doneIds.has(id)) return [];
    return [{ day: day(atMs), at: iso(atMs), kind, label, state: 'done' as const, id }];
  });
  return [...steps, ...others].sort((a, b) => a.day - b.day);
}

/** Visits that stand on the rail also where the plan had no step for them. */
const otherVisit: Readonly<Partial<Record<FactKind, string>>> = {
  'cells-cut': 'Cells cut',
  inspection: 'Looked through',
  fed: 'Fed',
  'looked-for-queen': 'Looked for the queen',
};

/** Runs of days with the same expected band, to the end of the introduction. */
function bandOf(state: IntroductionState, day0Ms: number, lastDay: number, day: DayOf): Rail['band'] {
  const band: Rail['band'] = [];
  for (let i = 0; i < lastDay; i += 1) {
    const atMs = startOfDayAfter(day0Ms, i, state.setup.timeZone);
    if (atMs > endOf(state)) break;
    const expected = expectedBand(broodRegimeOf(state, atMs + dayMs / 2));
    if (!expected) continue;
    const from = day(atMs);
    const last = band.at(-1);
    if (last && last.lowC === expected.low && last.highC === expected.high && last.toDay === from)
      band[band.length - 1] = { ...last, toDay: from + 1 };
    else band.push({ fromDay: from, toDay: from + 1, lowC: expected.low, highC: expected.high });
  }
  return band;
}

function inWords({ state, signals, plan, nuc }: NucAnalysis, nowMs: number): string {
  if (!state) return `${nuc.name}: no introduction.`;
  const { name, line } = stageNow(state, signals);
  const day = state.dayNumber === null ? '' : `, day ${String(state.dayNumber)}`;
  const mesh = state.setup.method === 'push-in-cage';
  const done = plan.filter((step) => step.done).map((step) => stepLabel(step, mesh).toLowerCase());
  const next = plan.find((step) => !step.done && !step.offered);
  const upcoming = next
    ? ` Next: ${next.label.toLowerCase()}${stepState(next, nowMs) === 'overdue' ? ', overdue' : ''}.`
    : '';
  return `${nuc.name}${day}, ${name}. ${line}${done.length > 0 ? ` Done: ${done.join(', ')}.` : ''}${upcoming}`;
}
