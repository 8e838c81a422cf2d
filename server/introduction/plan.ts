/**
 * The plan of one introduction: what is to be done, when, with what. Worked out anew from the state each
 * time, so a fact that is logged moves everything after it; ids stay the same.
 */
import { cutsAreSure } from './gates/sure-cuts.ts';
import { noEvidence } from './gates/gate.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import type { FactKind } from './facts.ts';
import { avoidUnavailable } from './plan-days.ts';
import { whatToBring, whatToDo, type PlanKind, type PlanOptions, type PlanStep } from './plan-step.ts';
import {
  cutWindow,
  hangWindow,
  lookAgainWindow,
  lookWindow,
  nextVisit,
  oneMoreLookWindow,
  openWindow,
  sealedBroodWindow,
  secondLookWindow,
  splitInstant,
  splitWindow,
  type Clock,
  type StepWindow,
} from './plan-windows.ts';
import type { IntroductionState } from './state.ts';
import { testFramePlan } from './test-frame-plan.ts';

export type { PlanOptions, PlanStep } from './plan-step.ts';

interface Draft extends StepWindow {
  readonly kind: PlanKind;
  readonly why: readonly string[];
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
  options: PlanOptions,
  clock: Clock,
): Draft[] {
  const { setup, looks, evidence, queen } = state;
  const own = setup.startingPoint === 'own-laying-queen';
  const lastEggMs = evidence.lastFertileEgg.latestMs ?? splitMs;
  const queenlessMs = evidence.queenlessSince.earliestMs ?? splitMs;
  const cut = cutWindow(lastEggMs, queenlessMs, clock);
  const cutAtMs =
    looks.firstLate?.atMs ?? Math.max(cut.targetMs, own ? 0 : nextVisitIfPast(cut, state, clock));
  const second = secondLookWindow(cutAtMs, clock);
  const extra = oneMoreLook(state, options, clock);
  const lastLookMs =
    extra?.targetMs ??
    looks.second?.atMs ??
    Math.max(second.targetMs, state.looks.firstLate ? nextVisitIfPast(second, state, clock) : 0);
  const queenMs = queen.arrivedAtMs ?? setup.expectedQueenMs ?? null;
  const hang = hangWindow(splitMs, cutAtMs, queen.cageHungAtMs ?? queenMs, lastLookMs, clock);
  const hungMs = queen.inCageSinceMs ?? hang.targetMs;
  const open = openWindow(lastLookMs, hungMs, queenMs, setup.method === 'push-in-cage', clock);
  return [
    {
      ...cut,
      kind: 'cut-cells',
      done: lookDone(looks.firstLate),
      why: ['From day 7 no larva is young enough for another cell; before day 8½ no virgin has emerged.'],
    },
    {
      ...hang,
      kind: 'hang-cage',
      done: queen.cageHungAtMs === null ? undefined : doneBy(latest(state, 'cage-hung')),
      why: ['She may hang from the day of the split on; the bees learn her scent and keep her warm.'],
    },
    {
      ...second,
      kind: 'second-look',
      done: lookDone(looks.second),
      why: ['About day 10 a cell that the first look missed is still sealed and can be found.'],
    },
    ...(extra ? [extra] : []),
    {
      ...open,
      kind: 'open-candy',
      done:
        queen.releasedAtMs === null
          ? undefined
          : doneBy(latest(state, setup.method === 'push-in-cage' ? 'cage-taken-out' : 'candy-opened')),
      why: ['Only when no cell, no virgin and no larva for another is left.'],
    },
  ];
}

/** An unmade step whose day has gone by is planned for the next visit. */
const nextVisitIfPast = (window: StepWindow, { nowMs }: IntroductionState, clock: Clock): number =>
  nowMs > window.targetMs ? nextVisit(nowMs, clock) : 0;

function oneMoreLook(state: IntroductionState, options: PlanOptions, clock: Clock): Draft | null {
  if (state.queen.releasedAtMs !== null || state.looks.second === null) return null;
  const limit = options.chanceLimit;
  const sure = cutsAreSure(
    state,
    limit === undefined ? noEvidence : { ...noEvidence, chanceLimit: limit },
    state.nowMs,
  );
  if (!sure?.oneMoreLook) return null;
  const lastLookMs = lastOf(state.looks.complete)?.atMs ?? state.nowMs;
  return {
    ...oneMoreLookWindow(lastLookMs, sure.oneMoreLook.untilMs ?? lastLookMs, clock),
    kind: 'one-more-look',
    why: [sure.bar.reason.text],
  };
}

/** Hands off, then the queen, her eggs, and her sealed brood. */
function afterRelease(state: IntroductionState, releasedMs: number, clock: Clock): Draft[] {
  const looked = ofKind(state.facts, 'looked-for-queen').filter((f) => f.atMs >= releasedMs);
  const first = looked[0];
  const { firstEggsAtMs, sealedWorkerBroodAtMs } = state.queen;
  const drafts: Draft[] = [
    {
      ...lookWindow(releasedMs, clock),
      kind: 'look-for-queen',
      done: doneBy(first),
      why: ['Never before three full days; a week is better: a look too early gets the queen killed.'],
    },
  ];
  const last = lastOf(looked);
  if (last && firstEggsAtMs === null && state.queen.where !== 'gone') {
    drafts.push({
      ...lookAgainWindow(last.atMs, releasedMs, clock),
      kind: 'look-again',
      why: ['No eggs were seen yet; a queen that has none two weeks after her release is failing.'],
    });
  }
  const eggsMs = firstEggsAtMs ?? lookWindow(releasedMs, clock).targetMs;
  drafts.push({
    ...sealedBroodWindow(eggsMs, clock),
    kind: 'check-sealed-brood',
    done: sealedWorkerBroodAtMs === null ? undefined : doneBy(last),
    why: ['Worker brood is sealed nine days after the egg: flat cappings prove a mated queen.'],
  });
  return drafts;
}

const toStep = (state: IntroductionState, { done, clashes, ...draft }: Draft): PlanStep => ({
  ...draft,
  id: `${state.setup.id}:${draft.kind}`,
  introductionId: state.setup.id,
  nucId: state.setup.nucId,
  whatToDo: whatToDo[draft.kind],
  whatToBring: whatToBring[draft.kind],
  clashes: clashes ?? [],
  ...(done ? { done } : {}),
});

/**
 * Steps in the order of their targets; none after an outcome or where the queen is gone. Empty while
 * neither a split nor an arrival has a date.
 */
export function planIntroduction(state: IntroductionState, options: PlanOptions = {}): readonly PlanStep[] {
  const { setup, queen, outcome } = state;
  const clock: Clock = { timeZone: setup.timeZone, visitHour: options.visitHour ?? 10 };
  const splitMs = splitInstant(state, clock);
  if (splitMs === null) return [];
  const before = beforeRelease(state, splitMs, options, clock);
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
    ...testFramePlan(state, clock),
    ...before,
    ...afterRelease(state, openAtMs, clock),
  ];
  const over = outcome !== null || queen.where === 'gone';
  return drafts
    .filter((draft) => !over || draft.done)
    .map((draft) => toStep(state, draft))
    .map((step) => avoidUnavailable(step, options.unavailable ?? [], setup.timeZone))
    .toSorted((a, b) => (a.done?.atMs ?? a.targetMs) - (b.done?.atMs ?? b.targetMs));
}
