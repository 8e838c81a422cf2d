/**
 * The plan of one introduction: what is to be done, when, with what. Worked out anew from the state each
 * time, so a fact that is logged moves everything after it; ids stay the same.
 */
import type { Sentence } from '../words/phrase.ts';
import { cutsAreSure, type SureCuts } from './gates/sure-cuts.ts';
import { noEvidence } from './gates/gate.ts';
import { dayNumber, startOfDayAfter } from './calendar.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import type { FactKind } from './facts.ts';
import { avoidUnavailable } from './plan-days.ts';
import type { PlanKind, PlanOptions, PlanStep } from './plan-step.ts';
import { stepWords } from './plan-words.ts';
import {
  cutWindow,
  hangWindow,
  late,
  lookAgainWindow,
  lookWindow,
  oneMoreLookWindow,
  ownQueenWindow,
  openWindow,
  sealedBroodWindow,
  searchAgainWindow,
  secondLookWindow,
  splitInstant,
  splitWindow,
  type Clock,
  type StepWindow,
} from './plan-windows.ts';
import type { IntroductionState } from './state.ts';
import { mayBeOut } from './queen.ts';
import { looksBeforeTestFrame, testFramePlan } from './test-frame-plan.ts';

export type { PlanOptions, PlanStep } from './plan-step.ts';

interface Draft extends StepWindow {
  readonly kind: PlanKind;
  readonly why: readonly Sentence[];
  readonly done?: { readonly atMs: number; readonly factId: string } | undefined;
  readonly clashes?: readonly string[];
}

const doneBy = (fact: Pick<EffectiveFact, 'id' | 'atMs'> | undefined): Draft['done'] =>
  fact && { atMs: fact.atMs, factId: fact.id };

const lookDone = (look: { readonly atMs: number; readonly factId: string } | null): Draft['done'] =>
  look ? { atMs: look.atMs, factId: look.factId } : undefined;

const latest = (state: IntroductionState, kind: FactKind): EffectiveFact | undefined =>
  lastOf(ofKind(state.facts, kind));

/** Cells are cut and looked for twice; the queen is caged meanwhile. */
function beforeRelease(
  state: IntroductionState,
  splitMs: number,
  sure: SureCuts | null,
  clock: Clock,
): Draft[] {
  const { looks, evidence, nowMs } = state;
  const lastEggMs = evidence.lastFertileEgg.latestMs ?? splitMs;
  const queenlessMs = evidence.queenlessSince.earliestMs ?? splitMs;
  const cut = late(cutWindow(lastEggMs, queenlessMs, clock), nowMs, clock);
  const second = late(secondLookWindow(looks.firstLate?.atMs ?? cut.targetMs, clock), nowMs, clock);
  const extra = oneMoreLook(state, sure, clock);
  const lastLookMs = extra?.targetMs ?? looks.second?.atMs ?? second.targetMs;
  const cutAtMs = looks.firstLate?.atMs ?? cut.targetMs;
  return [
    {
      ...cut,
      kind: 'cut-cells',
      done: lookDone(looks.firstLate),
      why: ['From day 7 no larva is young enough for another cell; before day 8½ no virgin has emerged.'],
    },
    {
      ...second,
      kind: 'second-look',
      done: lookDone(looks.second),
      why: ['About day 10 a cell that the first look missed is still sealed and can be found.'],
    },
    ...(extra ? [extra] : []),
    ...cageSteps(state, { fromMs: splitMs, hangMs: cutAtMs, openMs: lastLookMs }, clock),
  ];
}

/** A laying queen of one's own: every cell is cut on the day on which she is let out. */
function beforeOwnQueen(state: IntroductionState, splitMs: number, clock: Clock): Draft[] {
  const { looks, queen, setup, nowMs } = state;
  const mesh = setup.method === 'push-in-cage';
  const inSince = queen.inCageSinceMs ?? setup.expectedQueenMs ?? null;
  const hanging = ownQueenWindow(splitMs, inSince, clock);
  const letOut = mesh
    ? openWindow(splitMs, queen.inCageSinceMs ?? hanging.targetMs, null, true, clock)
    : hanging;
  const window = late(letOut, nowMs, clock);
  const last = lastOf(looks.complete);
  const lookedToday = last && dayNumber(last.atMs, nowMs, setup.timeZone) === 0;
  const openMs = lookedToday ? last.atMs : window.targetMs;
  return [
    {
      ...window,
      kind: 'cut-cells',
      done: lookDone(lookedToday || queen.releasedAtMs !== null ? (last ?? null) : null),
      why: ['A laying queen of your own needs every cell cut on the day on which she is let out.'],
    },
    ...cageSteps(state, { fromMs: splitMs, hangMs: mesh ? hanging.targetMs : openMs, openMs }, clock),
  ];
}

interface CageDays {
  readonly fromMs: number;
  readonly hangMs: number;
  readonly openMs: number;
}

function cageSteps(state: IntroductionState, { fromMs, hangMs, openMs }: CageDays, clock: Clock): Draft[] {
  const { setup, queen, nowMs } = state;
  const queenMs = queen.arrivedAtMs ?? setup.expectedQueenMs ?? null;
  const hang = late(hangWindow(fromMs, hangMs, queen.cageHungAtMs ?? queenMs, openMs, clock), nowMs, clock);
  const hungMs = queen.inCageSinceMs ?? hang.targetMs;
  const own = setup.startingPoint === 'own-laying-queen';
  const open =
    own && setup.method !== 'push-in-cage'
      ? { ...hang, earliestMs: openMs, targetMs: Math.max(openMs, hungMs) }
      : openWindow(openMs, hungMs, queenMs, setup.method === 'push-in-cage', clock);
  const release = setup.method === 'push-in-cage' ? 'cage-taken-out' : 'candy-opened';
  return [
    {
      ...hang,
      kind: 'hang-cage',
      done: queen.cageHungAtMs === null ? undefined : doneBy(latest(state, 'cage-hung')),
      why: ['She may hang from the day of the split on; the bees learn her scent and keep her warm.'],
    },
    {
      ...late(open, nowMs, clock),
      kind: 'open-candy',
      done: queen.releasedAtMs === null ? undefined : doneBy(latest(state, release)),
      why: own
        ? ['When every cell was cut that day and the bees are calm at the cage.']
        : ['Only when no cell, no virgin and no larva for another is left.'],
    },
  ];
}

/** The chance that a cell was missed, where the release waits for it. */
function chanceMissed(state: IntroductionState, { chanceLimit: limit }: PlanOptions): SureCuts | null {
  if (state.queen.releasedAtMs !== null || state.looks.second === null) return null;
  const evidence = limit === undefined ? noEvidence : { ...noEvidence, chanceLimit: limit };
  return cutsAreSure(state, evidence, state.nowMs);
}

function oneMoreLook(state: IntroductionState, sure: SureCuts | null, clock: Clock): Draft | null {
  if (!sure?.oneMoreLook) return null;
  const lastLookMs = lastOf(state.looks.complete)?.atMs ?? state.nowMs;
  return {
    ...late(oneMoreLookWindow(lastLookMs, sure.oneMoreLook.untilMs ?? lastLookMs, clock), state.nowMs, clock),
    kind: 'one-more-look',
    why: [sure.bar.reason.text],
  };
}

/** She was not found: again after some days. After two looks a test frame tells (`test-frame-plan.ts`). */
function searchPlan(state: IntroductionState, clock: Clock): Draft[] {
  const { notFoundAtMs } = state.queen;
  const last = lastOf(notFoundAtMs);
  if (last === undefined || notFoundAtMs.length >= looksBeforeTestFrame) return [];
  return [
    {
      ...late(searchAgainWindow(last, clock), state.nowMs, clock),
      kind: 'look-again',
      why: ['She was not found. Not finding a queen is not losing her: a second look often does.'],
    },
  ];
}

/** Hands off, then the queen, her eggs, and her sealed brood. */
function afterRelease(state: IntroductionState, releasedMs: number, clock: Clock): Draft[] {
  const looked = ofKind(state.facts, 'looked-for-queen').filter((f) => f.atMs >= releasedMs);
  const first = looked[0];
  const { firstEggsAtMs, sealedWorkerBroodAtMs } = state.queen;
  const drafts: Draft[] = [
    {
      ...late(lookWindow(releasedMs, clock), state.nowMs, clock),
      kind: 'look-for-queen',
      done: doneBy(first),
      why: ['Never before three full days; a week is better: a look too early gets the queen killed.'],
    },
  ];
  const last = lastOf(looked);
  if (last && firstEggsAtMs === null && mayBeOut(state.queen) && state.queen.notFoundAtMs.length === 0) {
    drafts.push({
      ...late(lookAgainWindow(last.atMs, releasedMs, clock), state.nowMs, clock),
      kind: 'look-again',
      why: ['No eggs were seen yet; a queen that has none two weeks after her release is failing.'],
    });
  }
  const eggsMs = firstEggsAtMs ?? lookWindow(releasedMs, clock).targetMs;
  drafts.push({
    ...late(sealedBroodWindow(eggsMs, clock), state.nowMs, clock),
    kind: 'check-sealed-brood',
    done: sealedWorkerBroodAtMs === null ? undefined : doneBy(last),
    why: ['Worker brood is sealed nine days after the egg: flat cappings prove a mated queen.'],
  });
  return drafts;
}

function toStep({ setup, queen }: IntroductionState, draft: Draft): PlanStep {
  const { kind, earliestMs, targetMs, latestMs, why, done, clashes = [] } = draft;
  const { label, logAs, whatToDo, whatToBring } = stepWords(
    kind,
    setup.method,
    queen.notFoundAtMs.length > 0,
  );
  // Named one by one: spread together they take longer than the whole rest of the plan.
  const step = {
    id: `${setup.id}:${kind}`,
    introductionId: setup.id,
    nucId: setup.nucId,
    kind,
    label,
    logAs,
    earliestMs,
    targetMs,
    latestMs,
    whatToDo,
    whatToBring,
    why,
    clashes,
  };
  return done ? { ...step, done } : step;
}

interface Planned {
  readonly options: PlanOptions;
  readonly fromMs: number;
  readonly untilMs: number;
  readonly plan: readonly PlanStep[];
}

/** The last plans made of the same facts: as long as no step's time comes and the day stays, the next is the same. */
const plans = new WeakMap<IntroductionState['facts'], Planned[]>();
/** Instants are asked for back and forth where something is searched for. */
const mostPlans = 8;

const sameOptions = (a: PlanOptions, b: PlanOptions): boolean =>
  a.visitHour === b.visitHour && a.unavailable === b.unavailable && a.chanceLimit === b.chanceLimit;

/** Up to when drafts stay as they are: to the first whose time comes, or the end of the day. What is reckoned from now stands for now alone. */
function standUntilMs(drafts: readonly Draft[], splitMs: number, state: IntroductionState): number {
  const { nowMs, day0Ms, setup } = state;
  const reckonedFromNow = drafts.some(
    ({ kind, earliestMs, targetMs }) =>
      kind === 'one-more-look' || earliestMs === nowMs || targetMs === nowMs,
  );
  if (reckonedFromNow) return nowMs;
  const times = drafts.flatMap(({ done, targetMs }) => (done && targetMs <= nowMs ? [] : [targetMs]));
  if (day0Ms === null) times.push(splitMs);
  return Math.max(nowMs, Math.min(...times, startOfDayAfter(nowMs, 1, setup.timeZone) - 1));
}

/**
 * Steps in the order of their targets; none after an outcome or where the queen is gone. Empty while
 * neither a split nor an arrival has a date.
 */
export function planIntroduction(state: IntroductionState, options: PlanOptions = {}): readonly PlanStep[] {
  const known = plans.get(state.facts) ?? [];
  const { nowMs } = state;
  const same = known.find(
    (one) => sameOptions(one.options, options) && nowMs >= one.fromMs && nowMs <= one.untilMs,
  );
  if (same) return same.plan;
  const planned = planOf(state, options);
  const others = known.filter((one) => one.fromMs < planned.fromMs || one.untilMs > planned.untilMs);
  plans.set(state.facts, [planned, ...others.slice(0, mostPlans - 1)]);
  return planned.plan;
}

function planOf(state: IntroductionState, options: PlanOptions): Planned {
  const { setup, queen, outcome } = state;
  const clock: Clock = { timeZone: setup.timeZone, visitHour: options.visitHour ?? 10 };
  const splitMs = splitInstant(state, clock);
  if (splitMs === null) return { options, fromMs: state.nowMs, untilMs: state.nowMs, plan: [] };
  const own = setup.startingPoint === 'own-laying-queen';
  const sure = own ? null : chanceMissed(state, options);
  const before = own ? beforeOwnQueen(state, splitMs, clock) : beforeRelease(state, splitMs, sure, clock);
  const openAtMs =
    queen.releasedAtMs ?? before.find((draft) => draft.kind === 'open-candy')?.targetMs ?? splitMs;
  const drafts: Draft[] = [
    ...(setup.startingPoint === 'planned-split' || state.split
      ? [
          {
            ...splitWindow(splitMs, setup.expectedQueenMs, clock),
            kind: 'split' as const,
            done: doneBy(ofKind(state.facts, 'split-made')[0]),
            why: ['A week before the queen comes: cells are cut on day 7.'],
          },
        ]
      : []),
    ...testFramePlan(state, clock, sure?.testFrame ? sure.bar.reason.text : null),
    ...before,
    ...searchPlan(state, clock),
    ...afterRelease(state, openAtMs, clock),
  ];
  const over = outcome !== null || queen.where === 'gone';
  const plan = drafts
    .filter((draft) => !over || draft.done)
    .map((draft) => toStep(state, draft))
    .map((step) => avoidUnavailable(step, options.unavailable ?? [], setup.timeZone))
    .toSorted((a, b) => (a.done?.atMs ?? a.targetMs) - (b.done?.atMs ?? b.targetMs));
  return { options, fromMs: state.nowMs, untilMs: standUntilMs(drafts, splitMs, state), plan };
}
