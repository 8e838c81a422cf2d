/**
 * A keeper who does what is due, and finds the best that can be true: no more cells, calm bees, a living queen. Where even
 * then nothing is ever due, or the same act comes back for ever, the answer has a dead end.
 */
import { answerFor } from '../../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../../server/introduction/acts/draft.ts';
import { onDayAt, startOfDayAfter } from '../../../server/introduction/calendar.ts';
import type { FactPayload, LogEntry } from '../../../server/introduction/log/facts.ts';
import type { PlanStep } from '../../../server/introduction/acts/plan-step.ts';
import { foldIntroduction, type IntroductionState } from '../../../server/introduction/state.ts';
import type { IntroductionSetup } from '../../../server/introduction/log/setup.ts';
import { queenToFind } from '../../../server/introduction/brood/shown-queenless.ts';
import { facts } from './field-log.ts';
import { entry } from './random-log.ts';

const quarterMs = 15 * 60_000;

/** Nothing amiss, and brood as old as the days since the beginning allow. */
function cleanLook({ day0Ms, nowMs }: IntroductionState): FactPayload {
  const days = (nowMs - (day0Ms ?? nowMs)) / (96 * quarterMs);
  const youngestBrood = days < 9.5 ? 'old-larvae' : days < 22 ? 'sealed-only' : 'none';
  return facts.inspection({ youngestBrood, framesOfBees: 3 });
}

/** What is written of an act whose finds are as good as can be. */
function entryOf(kind: ActKind, state: IntroductionState): FactPayload | null {
  const queenId = state.queen.queenId ?? 'queen-one';
  switch (kind) {
    case 'split':
      return facts.split();
    case 'queen-arrives':
      return facts.arrived({ queenId: `${queenId}-next` });
    case 'find-old-queen':
      return { kind: 'queen-removed', which: 'old-queen' };
    case 'take-queen-out':
      return {
        kind: 'queen-removed',
        which: queenToFind(state.evidence) ? 'old-queen' : 'virgin',
      };
    case 'look-through':
    case 'add-bees':
      return cleanLook(state);
    case 'cut-cells':
    case 'second-look':
    case 'one-more-look':
    case 'cut-after-release':
    case 'early-cut':
      return facts.cut();
    case 'hang-cage':
    case 'close-candy':
      return facts.hung({ queenId });
    case 'test-frame-in':
      return facts.broodAdded({ asTestFrame: true });
    case 'test-frame-out':
      return facts.broodTaken({ cellsOnIt: 4 });
    case 'watch-cage':
      return facts.atCage();
    case 'take-cage-out':
      return { kind: 'cage-taken-out', queen: 'in-the-cage' };
    case 'give-brood':
      return facts.broodAdded();
    case 'free-queen':
      return facts.opened();
    case 'open-candy':
      return state.setup.method === 'push-in-cage'
        ? { kind: 'cage-taken-out', queen: 'left-in-nuc' }
        : facts.opened();
    case 'look-for-queen':
    case 'look-again':
      return facts.looked();
    case 'check-sealed-brood':
      return facts.looked({ sealedWorkerBroodSeen: true });
    case 'call-inspector':
      return { kind: 'brood-disease', found: 'ruled-out' };
    case 'unite':
      return { kind: 'outcome', outcome: 'united' };
    case 'graft':
      return null;
  }
}

/** Open, not blocked, and to be done by the end of that day. */
const isFor = (step: PlanStep, dayEndsMs: number): boolean =>
  !step.done && !step.offered && !step.blocked && step.targetMs < dayEndsMs;

const isOver = ({ outcome, queen }: IntroductionState): boolean =>
  outcome !== null || (queen.sealedWorkerBroodAtMs !== null && queen.where !== 'dead');

export interface Played {
  readonly end: 'over' | 'dead end';
  readonly days: number;
  /** What was done, in order. */
  readonly done: readonly ActKind[];
  /** What was open and blocked at the end. */
  readonly open: readonly string[];
}

/** What is written on one day: the acts that are for it in the morning, and what they bring up, each if it may be done then. */
function dayOf(setup: IntroductionSetup, entries: LogEntry[], morningMs: number, done: ActKind[]): boolean {
  const dayEndsMs = startOfDayAfter(morningMs, 1, setup.timeZone);
  const tried = new Set<ActKind>();
  const todo: PlanStep[] = [];
  let nowMs = morningMs;
  for (;;) {
    const state = foldIntroduction(setup, entries, nowMs);
    if (isOver(state)) return true;
    const { plan } = answerFor(state);
    const known = new Set(todo.map(({ kind }) => kind));
    todo.push(...plan.filter((step) => isFor(step, dayEndsMs) && !known.has(step.kind)));
    const next =
      todo.find(({ kind }) => !tried.has(kind)) ??
      plan.find(({ kind, offered }) => offered && !tried.has(kind) && endsIt(kind, state));
    if (!next) return false;
    tried.add(next.kind);
    const atMs = Math.max(nowMs + quarterMs, next.targetMs);
    const then = foldIntroduction(setup, entries, atMs);
    const still = answerFor(then).plan.find(({ kind, done: was }) => kind === next.kind && !was);
    const may = still && answerFor(then).permissionOf(next.kind).answer === 'go';
    const fact = may ? entryOf(next.kind, then) : null;
    if (!fact || atMs >= dayEndsMs) continue;
    done.push(next.kind);
    entries.push(entry(`played-${String(entries.length).padStart(5, '0')}`, atMs, fact));
    nowMs = atMs;
  }
}

/** Does what the plan has for each day, for so many days. */
export function playOn(
  setup: IntroductionSetup,
  log: readonly LogEntry[],
  fromMs: number,
  mostDays: number,
): Played {
  const entries = [...log];
  const done: ActKind[] = [];
  let morningMs = fromMs;
  for (let day = 0; day < mostDays; day++) {
    if (dayOf(setup, entries, morningMs, done)) return { end: 'over', days: day, done, open: [] };
    morningMs = onDayAt(morningMs, 1, 8, setup.timeZone);
  }
  const { plan } = answerFor(foldIntroduction(setup, entries, morningMs));
  return {
    end: 'dead end',
    days: mostDays,
    done,
    open: plan
      .filter((step) => !step.done)
      .map(({ kind, blocked, offered }) => `${kind} ${blocked?.by ?? ''}${offered ? 'offered' : ''}`),
  };
}

/** A queen that nobody has logged is hung in the end; with one dead or gone the next one comes; one that fails is given up. */
function endsIt(kind: ActKind, { queen }: IntroductionState): boolean {
  switch (queen.where) {
    case 'not-here':
      return kind === 'hang-cage' || kind === 'unite';
    case 'dead':
    case 'gone':
      return kind === 'queen-arrives';
    default:
      return kind === 'unite';
  }
}
