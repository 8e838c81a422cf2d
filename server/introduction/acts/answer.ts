/**
 * The answer for one nuc: its acts, each with its window and its permission. Gates, the plan, the calendar, and what is
 * due or overdue are views of it.
 */
import { lazy, withLater } from '../../lazily.ts';
import { dayNumber, startOfDayAfter } from '../calendar.ts';
import { noEvidence, type GateEvidence } from './gate.ts';
import { avoidUnavailable } from './days/plan-days.ts';
import type { StepWindow } from './days/plan-windows.ts';
import { dueAheadMs, type PlanOptions, type PlanStep } from './plan-step.ts';
import type { IntroductionState } from '../state.ts';
import { permissionFrom, type Permission } from './condition.ts';
import type { ActKind, Draft } from './draft.ts';
import { situationOf, type Situation } from './situation.ts';
import { acts, rowOf } from './table.ts';

export interface Answer {
  /** Acts that are done, to be done or offered, in the order of their days. */
  readonly plan: readonly PlanStep[];
  /** May it be done now, whether or not it is planned? */
  readonly permissionOf: (kind: ActKind) => Permission;
  readonly situation: Situation;
}

/** Evidence and options in which a plan is the same: sensors bar an act, they never move its day. */
function planned(state: IntroductionState, options: PlanOptions): Situation {
  const { chanceLimit } = options;
  const evidence = chanceLimit === undefined ? noEvidence : { ...noEvidence, chanceLimit };
  return situationOf(state, evidence, options, (kind, situation) => rowOf(kind).draft(situation));
}

/** The day of what was done is the day on which it was done. */
const inWindow = ({ earliestMs, latestMs }: StepWindow, doneMs: number): StepWindow => ({
  earliestMs: Math.min(earliestMs, doneMs),
  targetMs: doneMs,
  latestMs: Math.max(latestMs, doneMs),
});

function toStep(situation: Situation, kind: ActKind, draft: Draft): PlanStep {
  const { setup } = situation.state;
  const { label, logAs, whatToDo, whatToBring } = rowOf(kind).words(situation);
  const { earliestMs, targetMs, why, done, offered, afterArrivalDays } = draft;
  // Nothing was late before the introduction was opened.
  const openingDayEndsMs = startOfDayAfter(setup.openedAtMs, 1, setup.timeZone) - 1;
  const latestMs = Math.max(draft.latestMs, openingDayEndsMs);
  // Named one by one: spread together they take longer than the whole rest of the plan.
  const step: PlanStep = {
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
    clashes: [],
  };
  if (done) return { ...step, ...inWindow(step, done.atMs), done };
  if (afterArrivalDays !== undefined) return { ...step, offered: true, afterArrivalDays };
  return offered ? { ...step, offered } : step;
}

/** Drafts by kind, with the steps that come of them. */
interface Planned {
  readonly situation: Situation;
  readonly drafts: ReadonlyMap<ActKind, Draft>;
  readonly plan: readonly PlanStep[];
}

/** In the order of the days on which they are to be done, or were. */
const inOrder = (steps: readonly PlanStep[]): readonly PlanStep[] =>
  steps.toSorted((a, b) => (a.done?.atMs ?? a.targetMs) - (b.done?.atMs ?? b.targetMs));

function planOf(state: IntroductionState, options: PlanOptions): Planned {
  const situation = planned(state, options);
  const drafts = new Map<ActKind, Draft>();
  for (const { kind } of acts) {
    const draft = situation.draftOf(kind);
    if (draft) drafts.set(kind, draft);
  }
  const { timeZone } = state.setup;
  const steps = [...drafts].map(([kind, draft]) =>
    avoidUnavailable(toStep(situation, kind, draft), options.unavailable ?? [], timeZone, state.nowMs),
  );
  return { situation, drafts, plan: inOrder(steps) };
}

/** Steps without their permissions: where every act has its place. Empty while neither a split nor an arrival has a date. */
export const placesOfActs = (state: IntroductionState, options: PlanOptions = {}): readonly PlanStep[] =>
  planOf(state, options).plan;

/** It may not be done on its day: something stands against it that the day itself does not settle. */
function blockedBy(step: PlanStep, permission: Permission, { nowMs, clock }: Situation): PlanStep['blocked'] {
  const { answer, headline, untilMs, first } = permission;
  if (answer === 'go' || headline === null || step.done) return undefined;
  if (untilMs !== undefined && untilMs <= step.targetMs && nowMs <= step.latestMs) return undefined;
  const comesMs = Math.max(startOfDayAfter(nowMs, 1, clock.timeZone), nowMs + dueAheadMs + 1);
  if (answer === 'wait' && step.targetMs >= comesMs && nowMs <= step.latestMs) return undefined;
  return {
    answer,
    by: headline,
    first: first.map(({ kind }) => kind),
    ...(untilMs === undefined ? {} : { untilMs }),
  };
}

const searches: readonly ActKind[] = ['early-cut', 'cut-cells', 'second-look', 'one-more-look'];

const allSearches: readonly ActKind[] = [...searches, 'look-through', 'cut-after-release'];

const afterRelease: readonly ActKind[] = ['look-for-queen', 'check-sealed-brood'];

const isOpen = ({ done, offered, blocked }: PlanStep): boolean => !(done ?? offered ?? blocked);

/** A look on every frame is made with the search for cells of the same day: one visit, one line. */
function inOneSearch(steps: ReadonlyMap<ActKind, PlanStep>, { clock }: Situation): readonly PlanStep[] {
  const all = [...steps.values()];
  const look = steps.get('look-through');
  const search = all.find(
    (step) =>
      look &&
      searches.includes(step.kind) &&
      isOpen(step) &&
      dayNumber(look.targetMs, step.targetMs, clock.timeZone) === 0,
  );
  if (!look || !search || !isOpen(look)) return all;
  const first = (kind: ActKind): ActKind => (kind === 'look-through' ? search.kind : kind);
  return all
    .filter((step) => step !== look)
    .map((step) => ({
      ...step,
      ...(step === search ? withLook(search, look) : {}),
      ...(step.blocked ? { blocked: { ...step.blocked, first: step.blocked.first.map(first) } } : {}),
    }));
}

/** Their windows rest on the ages of the brood. */
const countedCuts: readonly ActKind[] = ['cut-cells', 'second-look'];

/** From the earlier beginning to the earlier end; a look whose last day was over before the cut began puts no end to it. */
function windowOfBoth(search: PlanStep, look: PlanStep): Pick<PlanStep, 'earliestMs' | 'latestMs'> {
  if (countedCuts.includes(search.kind) && look.latestMs < search.earliestMs)
    return { earliestMs: search.earliestMs, latestMs: search.latestMs };
  return {
    earliestMs: Math.min(look.earliestMs, search.earliestMs),
    latestMs: Math.min(look.latestMs, search.latestMs),
  };
}

const withLook = (search: PlanStep, look: PlanStep): Partial<PlanStep> => ({
  whatToDo: `${search.whatToDo} Look for a virgin, the youngest brood, several eggs a cell and drone brood in worker cells too, and log them.`,
  why: [...look.why, ...search.why],
  ...windowOfBoth(search, look),
});

/** The plan with what is blocked, by what, and the acts that settle it. */
function withPermissions(
  base: readonly PlanStep[],
  situation: Situation,
  asked: Map<ActKind, Draft>,
  permissionOf: (kind: ActKind) => Permission,
): readonly PlanStep[] {
  const unavailable = situation.options.unavailable ?? [];
  const steps = new Map(base.map((step) => [step.kind, step]));
  // What is done asks for no permission, and none is worked out for it.
  const open = base.filter(({ done }) => !done).map(({ kind }) => kind);
  for (let kind = open.shift(); kind !== undefined; kind = open.shift()) {
    const step = steps.get(kind);
    // Of what is only offered, what is wrong is said, and not what is merely early.
    if (!step || (step.offered && permissionOf(kind).answer !== 'stop')) continue;
    const blocked = blockedBy(step, permissionOf(kind), situation);
    if (!blocked) continue;
    const { offered: _barred, ...rest } = step;
    // What is to be done days after she comes has no day, barred or not.
    steps.set(kind, { ...((step.afterArrivalDays ?? 0) > 0 ? step : rest), blocked });
    for (const { kind: first, fromMs, ...asks } of permissionOf(kind).first) {
      const there = steps.get(first);
      if (asked.has(first) || (there && !there.done && !there.offered)) continue;
      const row = rowOf(first);
      const draft = row.asked?.(situation, { ...asks, fromMs: fromMs ?? situation.nowMs });
      if (!draft) continue;
      asked.set(first, draft);
      steps.set(
        first,
        avoidUnavailable(
          toStep(situation, first, draft),
          unavailable,
          situation.clock.timeZone,
          situation.nowMs,
        ),
      );
      open.push(first);
    }
  }
  // Where nothing is left but to unite it, what else would settle things is not asked for.
  for (const kind of asked.has('unite') ? asked.keys() : []) {
    const step = steps.get(kind);
    const forUniting = kind === 'unite' || permissionOf('unite').first.some((one) => one.kind === kind);
    if (step && !forUniting) steps.set(kind, { ...step, offered: true });
  }
  const isUnited = asked.has('unite') && permissionOf('unite').answer === 'go';
  // Nor is anything looked for among bees that are to be united.
  for (const kind of isUnited ? allSearches : []) {
    const step = steps.get(kind);
    if (step && isOpen(step)) steps.set(kind, { ...step, offered: true });
  }
  // Nor a queen who is let out into them no more.
  for (const kind of isUnited && steps.get('open-candy')?.blocked ? afterRelease : []) {
    if (steps.get(kind)?.done === undefined) steps.delete(kind);
  }
  return inOrder(inOneSearch(steps, situation));
}

/**
 * What may and should be done in one nuc at `state.nowMs`. Pure. `evidence`: what sensors and settings say;
 * `options`: the keeper's hours and days, and the chance limit that the plan goes by.
 */
export function answerFor(
  state: IntroductionState,
  evidence: GateEvidence = noEvidence,
  options: PlanOptions = {},
): Answer {
  const { chanceLimit } = evidence;
  const planOptions = chanceLimit === undefined ? options : { ...options, chanceLimit };
  const base = planOf(state, options.chanceLimit === undefined ? planOptions : options);
  const asked = new Map<ActKind, Draft>();
  const inPlace = situationOf(state, evidence, planOptions, (kind) => base.drafts.get(kind) ?? null);
  const situation: Situation = {
    ...inPlace,
    // It is worked out from the log and the limit alone.
    ...(base.situation.evidence.chanceLimit === chanceLimit ? { sure: base.situation.sure } : {}),
    draftOf: (kind) => asked.get(kind) ?? inPlace.draftOf(kind),
  };
  const permissions = new Map<ActKind, Permission>();
  const permissionOf = (kind: ActKind): Permission => {
    const known = permissions.get(kind);
    if (known) return known;
    const permission = permissionFrom(rowOf(kind).conditions(situation));
    permissions.set(kind, permission);
    return permission;
  };
  const plan = lazy(() => withPermissions(base.plan, situation, asked, permissionOf));
  return withLater({ situation, permissionOf }, { plan });
}
